#include "maps/zip.hpp"

#include <zip.h>

#include <algorithm>
#include <memory>
#include <set>

#include "base/contract.hpp"
#include "io/encoding.hpp"
#include "io/problem_list.hpp"

namespace beetwright::maps {
namespace {

constexpr std::string_view kDirectoryEntry = "PK\x01\x02";

struct DiscardArchive {
    void operator()(zip_t* archive) const { zip_discard(archive); }
};
struct CloseFile {
    void operator()(zip_file_t* file) const { zip_fclose(file); }
};
struct FreeSource {
    void operator()(zip_source_t* source) const { zip_source_free(source); }
};
using Archive = std::unique_ptr<zip_t, DiscardArchive>;
using OpenFile = std::unique_ptr<zip_file_t, CloseFile>;
using Source = std::unique_ptr<zip_source_t, FreeSource>;

/// libzip's own words for what went wrong, freed with it.
class ZipError {
 public:
    ZipError() { zip_error_init(&error_); }
    ~ZipError() { zip_error_fini(&error_); }
    ZipError(const ZipError&) = delete;
    ZipError& operator=(const ZipError&) = delete;

    zip_error_t* get() { return &error_; }
    std::string words() { return zip_error_strerror(&error_); }

 private:
    zip_error_t error_{};
};

Problem problem(ProblemKind kind, const std::string& file, const std::string& entry,
                std::string what, std::string fix) {
    return {kind, {.file = file, .line = 0, .field = entry}, std::move(what), std::move(fix)};
}

std::string mega(std::uint64_t bytes) {
    return std::to_string(bytes >> 20) + " MB";
}

/// More entries than are counted here an archive cannot have, wherever its directory stands; so it
/// is known before libzip makes room for them.
std::size_t entries_at_most(std::string_view bytes) {
    std::size_t count = 0;
    for (auto at = bytes.find(kDirectoryEntry); at != std::string_view::npos;
         at = bytes.find(kDirectoryEntry, at + kDirectoryEntry.size())) {
        ++count;
    }
    return count;
}

/// A name with which no file gets out of the folder it is unpacked into.
bool stays_inside(std::string_view name) {
    const bool has_drive = name.size() > 1 && name[1] == ':';
    if (name.empty() || name.front() == '/' || has_drive) {
        return false;
    }
    while (!name.empty()) {
        const auto end = std::min(name.find('/'), name.size());
        if (name.substr(0, end) == "..") {
            return false;
        }
        name.remove_prefix(std::min(end + 1, name.size()));
    }
    return true;
}

/// What an archive's directory says of one file.
struct Entry {
    zip_uint64_t index = 0;
    std::string name;
    std::uint64_t unpacked = 0;
    std::uint64_t packed = 0;
};

class ZipReader {
 public:
    ZipReader(const std::string& file, const ZipLimits& limits) : file_(file), limits_(limits) {}

    Result<std::vector<NamedFile>> read(std::string_view bytes) {
        if (bytes.size() > limits_.archive_bytes) {
            return too_much("", "the archive has " + mega(bytes.size()) + "; " +
                                    mega(limits_.archive_bytes) + " is the most");
        }
        if (entries_at_most(bytes) > limits_.files) {
            return too_much(
                "", "the archive holds more than " + std::to_string(limits_.files) + " files");
        }
        if (!is_zip(bytes)) {
            return damaged("", "it does not begin as one");
        }
        ZipError error;
        Source source(zip_source_buffer_create(bytes.data(), bytes.size(), 0, error.get()));
        Archive archive(source ? zip_open_from_source(source.get(), ZIP_RDONLY, error.get())
                               : nullptr);
        if (!archive) {
            return damaged("", error.words());
        }
        [[maybe_unused]] const auto* given = source.release();  // the archive's own from here on
        const auto entries = directory(archive.get());
        if (!problems_.empty()) {
            return std::move(problems_).take();
        }
        std::vector<NamedFile> files;
        for (const auto& entry : entries) {
            auto unpacked = unpack(archive.get(), entry);
            if (!unpacked) {
                return unpacked.problems();
            }
            files.push_back({entry.name, std::move(unpacked).value()});
        }
        return files;
    }

 private:
    Problem too_much(const std::string& entry, std::string what) const {
        return problem(ProblemKind::limit, file_, entry, std::move(what),
                       "send fewer files, or files of fewer days, in one archive");
    }
    Problem damaged(const std::string& entry, const std::string& words) const {
        return problem(ProblemKind::input, file_, entry,
                       "the archive is damaged, or is no ZIP: " + words,
                       "copy it again from where it was made, and send that");
    }

    /// Every file that the directory lists; what must not be is gathered.
    std::vector<Entry> directory(zip_t* archive) {
        std::vector<Entry> entries;
        std::set<std::string> names;
        std::uint64_t all = 0;
        const auto count = static_cast<zip_uint64_t>(zip_get_num_entries(archive, 0));
        for (zip_uint64_t index = 0; index < count; ++index) {
            zip_stat_t stat{};
            constexpr zip_uint64_t kNeeded = ZIP_STAT_NAME | ZIP_STAT_SIZE | ZIP_STAT_COMP_SIZE;
            if (zip_stat_index(archive, index, 0, &stat) != 0 ||
                (stat.valid & kNeeded) != kNeeded) {
                problems_.add(damaged("", zip_error_strerror(zip_get_error(archive))));
                return {};
            }
            Entry entry{index, stat.name, stat.size, stat.comp_size};
            std::ranges::replace(entry.name, '\\', '/');  // as some programs write folders
            const bool is_folder = entry.name.ends_with('/');
            if (!is_fit(entry, stat) || is_folder) {
                continue;
            }
            if (!names.insert(entry.name).second) {
                problems_.add(problem(ProblemKind::input, file_, entry.name,
                                      "two files of the archive have this name",
                                      "leave one of them out"));
            }
            // Below the limit of one file each, so that the sum cannot run over.
            all += entry.unpacked;
            entries.push_back(std::move(entry));
        }
        if (problems_.empty() && all > limits_.all_bytes) {
            problems_.add(too_much("", "the archive unpacks to " + mega(all) + "; " +
                                           mega(limits_.all_bytes) + " is the most"));
        }
        return entries;
    }

    bool is_fit(const Entry& entry, const zip_stat_t& stat) {
        if (!io::is_utf8(entry.name) || !stays_inside(entry.name)) {
            problems_.add(problem(ProblemKind::input, file_,
                                  io::is_utf8(entry.name) ? entry.name : "",
                                  "the name of a file leads out of the archive",
                                  "name files by folders within it: TASKDATA/TASKDATA.XML"));
            return false;
        }
        if ((stat.valid & ZIP_STAT_ENCRYPTION_METHOD) != 0 &&
            stat.encryption_method != ZIP_EM_NONE) {
            problems_.add(problem(ProblemKind::input, file_, entry.name, "the file is encrypted",
                                  "make the archive without a password"));
            return false;
        }
        if (entry.unpacked > limits_.file_bytes) {
            problems_.add(too_much(entry.name, "the file unpacks to " + mega(entry.unpacked) +
                                                   "; " + mega(limits_.file_bytes) +
                                                   " is the most"));
            return false;
        }
        if (entry.unpacked > limits_.ratio_from_bytes &&
            entry.unpacked / limits_.ratio > entry.packed) {
            problems_.add(too_much(entry.name, "the file unpacks to over " +
                                                   std::to_string(limits_.ratio) +
                                                   " times its size in the archive"));
            return false;
        }
        return true;
    }

    /// The file's bytes: as many as its entry says, with the checksum that it says.
    Result<std::string> unpack(zip_t* archive, const Entry& entry) const {
        const OpenFile open(zip_fopen_index(archive, entry.index, 0));
        if (!open) {
            return damaged(entry.name, zip_error_strerror(zip_get_error(archive)));
        }
        constexpr std::size_t kPiece = std::size_t{1} << 16;
        std::string bytes;
        // What the entry says is not believed: room is made as bytes come.
        while (true) {
            const auto before = bytes.size();
            bytes.resize(before + kPiece);
            const auto read = zip_fread(open.get(), bytes.data() + before, kPiece);
            if (read < 0) {
                return damaged(entry.name, zip_error_strerror(zip_file_get_error(open.get())));
            }
            bytes.resize(before + static_cast<std::size_t>(read));
            if (bytes.size() > entry.unpacked) {
                return damaged(entry.name, "the file holds more than its entry says");
            }
            if (read == 0) {
                break;
            }
        }
        if (bytes.size() < entry.unpacked) {
            return damaged(entry.name, "the file ends before its entry says so");
        }
        bytes.shrink_to_fit();
        return bytes;
    }

    const std::string& file_;
    const ZipLimits& limits_;
    io::ProblemList problems_;
};

Problem cannot_write(const std::string& words) {
    return problem(ProblemKind::outside, "", "", "no archive could be made: " + words,
                   "try again with more memory free");
}

/// Adds a file whose bytes outlive the archive.
bool add_file(zip_t* archive, const NamedFile& file) {
    Source source(zip_source_buffer(archive, file.bytes.data(), file.bytes.size(), 0));
    if (!source) {
        return false;
    }
    const auto index = zip_file_add(archive, file.name.c_str(), source.get(), ZIP_FL_ENC_UTF_8);
    if (index < 0) {
        return false;
    }
    [[maybe_unused]] const auto* given = source.release();  // the archive's own from here on
    // The first of January 1980: its year in bits 9 up, its month in 5 to 8, its day below.
    constexpr zip_uint16_t kFirstDay = (0U << 9U) | (1U << 5U) | 1U;
    const auto at = static_cast<zip_uint64_t>(index);
    return zip_file_set_dostime(archive, at, 0, kFirstDay, 0) == 0 &&
           zip_set_file_compression(archive, at, ZIP_CM_DEFLATE, 9) == 0;
}

/// What stands in a source that an archive was written to.
Result<std::string> bytes_of(zip_source_t* source) {
    zip_stat_t stat{};
    if (zip_source_stat(source, &stat) != 0 || (stat.valid & ZIP_STAT_SIZE) == 0 ||
        zip_source_open(source) != 0) {
        return cannot_write(zip_error_strerror(zip_source_error(source)));
    }
    std::string bytes(stat.size, '\0');
    const auto read = zip_source_read(source, bytes.data(), bytes.size());
    zip_source_close(source);
    if (read < 0 || static_cast<std::size_t>(read) != bytes.size()) {
        return cannot_write(zip_error_strerror(zip_source_error(source)));
    }
    return bytes;
}

}  // namespace

bool is_zip(std::string_view bytes) {
    // A file first, or the end of the directory where there is none.
    return bytes.starts_with("PK\x03\x04") || bytes.starts_with("PK\x05\x06");
}

Result<std::vector<NamedFile>> read_zip(std::string_view bytes, const std::string& file,
                                        const ZipLimits& limits) {
    return ZipReader(file, limits).read(bytes);
}

Problems problems_within(Problems problems, const std::string& archive) {
    for (auto& problem : problems) {
        auto& file = problem.where.file;
        file = file.empty() ? archive : archive + "/" + file;
    }
    return problems;
}

Result<std::string> write_zip(std::span<const NamedFile> files) {
    require(!files.empty(), "an archive has something in it");
    ZipError error;
    const Source source(zip_source_buffer_create(nullptr, 0, 0, error.get()));
    if (!source) {
        return cannot_write(error.words());
    }
    // Two hold it: the archive until it is written, and we to read what it wrote.
    zip_source_keep(source.get());
    Archive archive(zip_open_from_source(source.get(), ZIP_TRUNCATE, error.get()));
    if (!archive) {
        zip_source_free(source.get());
        return cannot_write(error.words());
    }
    for (const auto& file : files) {
        require(stays_inside(file.name), "files are written under names that stay in the archive");
        if (!add_file(archive.get(), file)) {
            return cannot_write(zip_error_strerror(zip_get_error(archive.get())));
        }
    }
    if (zip_close(archive.get()) != 0) {
        return cannot_write(zip_error_strerror(zip_get_error(archive.get())));
    }
    [[maybe_unused]] const auto* closed = archive.release();  // gone with its closing
    return bytes_of(source.get());
}

}  // namespace beetwright::maps
