#include <fcntl.h>
#include <stdio.h>  // renameat2 is not in <cstdio>
#include <unistd.h>

#include <cerrno>
#include <filesystem>

#include "records/season_file.hpp"

namespace beetwright::records {
namespace {

namespace fs = std::filesystem;

Problem outside(const std::string& file, const char* what) {
    return {ProblemKind::outside,
            {.file = file, .line = 0, .field = ""},
            what,
            "see that its folder exists, may be written and has room"};
}
Problem is_there(const std::string& file) {
    return {ProblemKind::conflict,
            {.file = file, .line = 0, .field = ""},
            "this file is there already, and a backup overwrites nothing",
            "name another, or move this one away"};
}

/// The file beside its place in which a copy grows; gone at the end unless it was put in place.
class Beside {
 public:
    explicit Beside(const std::string& place)
        : path_(place + ".part-" + std::to_string(::getpid())) {
        remove();
    }
    Beside(const Beside&) = delete;
    Beside& operator=(const Beside&) = delete;
    ~Beside() { remove(); }
    [[nodiscard]] const std::string& path() const { return path_; }

 private:
    void remove() const {
        std::error_code ignored;
        for (const char* tail : {"", "-journal", "-wal", "-shm"}) {
            fs::remove(path_ + tail, ignored);
        }
    }
    std::string path_;
};

bool synchronised(const std::string& path, int flags) {
    const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | flags);
    const bool done = file >= 0 && ::fsync(file) == 0;
    ::close(file);
    return done;
}

/// Renames, but never over a file that has come to be there meanwhile.
bool put_in_place(const std::string& from, const std::string& to) {
    if (::renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE) == 0) {
        return true;
    }
    // Not every file system, as those of memory sticks, can promise that.
    if (errno != EINVAL && errno != ENOSYS) {
        return false;
    }
    std::error_code error;
    if (!fs::exists(to, error)) {
        fs::rename(from, to, error);
        return !error;
    }
    errno = EEXIST;
    return false;
}

Result<Done> look_through(const Database& copy) {
    auto check = copy.prepare("PRAGMA integrity_check(1)");
    if (!check) {
        return check.problems();
    }
    auto row = check->step();
    if (!row) {
        return row.problems();
    }
    if (!*row || check->text(0) != "ok") {
        return Problem{ProblemKind::outside,
                       {.file = copy.path(), .line = 0, .field = ""},
                       "the copy is damaged, and so perhaps is the season file: " + check->text(0),
                       "see to the disk, and keep the copies from before"};
    }
    return Done{};
}

Result<Done> copy_whole(const Database& from, const std::string& to) {
    auto copy = Database::open(to, Access::create);
    if (!copy) {
        return copy.problems();
    }
    if (auto copied = from.copy_into(*copy); !copied) {
        return copied;
    }
    return look_through(*copy);
}

}  // namespace

Result<Done> SeasonFile::back_up(const std::string& to) const {
    std::error_code error;
    if (fs::exists(to, error)) {
        return is_there(to);
    }
    const Beside beside(to);
    if (auto copied = copy_whole(database_, beside.path()); !copied) {
        return copied;
    }
    // It holds what the season file holds, so nobody else may read it either.
    fs::permissions(beside.path(), fs::status(database_.path(), error).permissions(), error);
    if (!synchronised(beside.path(), 0)) {
        return outside(to, "the copy could not be made safe on the disk");
    }
    if (!put_in_place(beside.path(), to)) {
        return errno == EEXIST ? is_there(to) : outside(to, "the copy could not be put in place");
    }
    const auto folder = fs::path(to).parent_path();
    if (!synchronised(folder.empty() ? "." : folder.string(), O_DIRECTORY)) {
        return outside(to, "the copy is there, and its folder could not be made safe on the disk");
    }
    return Done{};
}

}  // namespace beetwright::records
