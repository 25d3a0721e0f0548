#include "serve/served_process.hpp"

#include <fcntl.h>
#include <sched.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdio>
#include <fstream>
#include <thread>

namespace beetwright::serve {
namespace {

std::vector<char*> pointers(const std::vector<std::string>& words) {
    std::vector<char*> all;
    for (const auto& word : words) {
        all.push_back(const_cast<char*>(word.c_str()));
    }
    all.push_back(nullptr);
    return all;
}

void put(const std::string& path, int descriptor) {
    const int file = ::open(path.c_str(), O_WRONLY | O_CREAT | O_APPEND, 0600);
    ::dup2(file, descriptor);
}

/// Reads until the end of a line; what came where there is none.
std::string first_line(int descriptor) {
    std::string line;
    char letter = 0;
    while (::read(descriptor, &letter, 1) == 1 && letter != '\n') {
        line += letter;
    }
    return line;
}

std::uint16_t port_in(const std::string& link) {
    const std::string start = "http://127.0.0.1:";
    return link.starts_with(start)
               ? static_cast<std::uint16_t>(std::atoi(link.c_str() + start.size()))
               : std::uint16_t{0};
}

pid_t started(const std::vector<std::string>& words, const std::string& output) {
    auto arguments = pointers(words);
    const pid_t id = ::fork();
    if (id == 0) {
        ::prctl(PR_SET_PDEATHSIG, SIGKILL);
        put(output, STDOUT_FILENO);
        put(output, STDERR_FILENO);
        ::execv(arguments[0], arguments.data());
        ::_exit(127);
    }
    return id;
}

void only_core(int core) {
    cpu_set_t set;
    CPU_ZERO(&set);
    CPU_SET(static_cast<unsigned>(core), &set);
    ::sched_setaffinity(0, sizeof set, &set);
}

}  // namespace

TemporaryFolder::TemporaryFolder(const std::string& name)
    : path_(std::filesystem::temp_directory_path() /
            ("beetwright_" + name + "_" + std::to_string(getpid()))) {
    std::filesystem::remove_all(path_);
    std::filesystem::create_directories(path_);
}
TemporaryFolder::~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
}

int run_program(const std::vector<std::string>& words, const std::string& output) {
    int status = 0;
    ::waitpid(started(words, output), &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

void run_program_for(std::chrono::microseconds time, const std::vector<std::string>& words) {
    const pid_t id = started(words, "/dev/null");
    std::this_thread::sleep_for(time);
    ::kill(id, SIGKILL);
    ::waitpid(id, nullptr, 0);
}

bool make_demo_season(const std::string& programs, const TemporaryFolder& folder,
                      const std::string& season) {
    const auto tables = folder / "demo";
    return run_program({programs + "/beetwright_demo_season", tables}) == 0 &&
           run_program({programs + "/beetwright", "import", "--season", season, tables}) == 0;
}

std::unique_ptr<ServedProcess> ServedProcess::start(const std::string& programs,
                                                    const std::string& season,
                                                    const ServeOptions& options) {
    std::vector<std::string> words{
        programs + "/beetwright", "serve", "--season", season, "--open", "--port", "0"};
    auto arguments = pointers(words);
    int told[2];
    if (::pipe2(told, O_CLOEXEC) != 0) {
        return nullptr;
    }
    const pid_t id = ::fork();
    if (id == 0) {
        ::prctl(PR_SET_PDEATHSIG, SIGKILL);
        if (options.core) {
            only_core(*options.core);
        }
        ::dup2(told[1], STDOUT_FILENO);
        put(options.log, STDERR_FILENO);
        ::execv(arguments[0], arguments.data());
        ::_exit(127);
    }
    ::close(told[1]);
    const auto port = port_in(first_line(told[0]));
    ::close(told[0]);
    std::unique_ptr<ServedProcess> process(new ServedProcess(id, port));
    return port == 0 ? nullptr : std::move(process);
}

ServedProcess::~ServedProcess() {
    kill();
}

bool ServedProcess::is_running() const {
    siginfo_t ended{};
    return id_ > 0 &&
           ::waitid(P_PID, static_cast<id_t>(id_), &ended, WEXITED | WNOHANG | WNOWAIT) == 0 &&
           ended.si_pid == 0;
}

void ServedProcess::kill() {
    if (id_ > 0) {
        ::kill(id_, SIGKILL);
        wait();
    }
}

int ServedProcess::stop() {
    ::kill(id_, SIGTERM);
    return wait();
}

int ServedProcess::wait() {
    int status = 0;
    ::waitpid(id_, &status, 0);
    id_ = -1;
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

bool ServedProcess::limit_files(std::optional<std::uint64_t> bytes) const {
    rlimit limit{};
    if (::prlimit(id_, RLIMIT_FSIZE, nullptr, &limit) != 0) {
        return false;
    }
    limit.rlim_cur = bytes.value_or(limit.rlim_max);
    return ::prlimit(id_, RLIMIT_FSIZE, &limit, nullptr) == 0;
}

long ServedProcess::memory_kb(const std::string& line) const {
    std::ifstream status("/proc/" + std::to_string(id_) + "/status");
    for (std::string one; std::getline(status, one);) {
        if (one.starts_with(line + ":")) {
            return std::atol(one.c_str() + line.size() + 1);
        }
    }
    return 0;
}

}  // namespace beetwright::serve
