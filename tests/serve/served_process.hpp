// The program as a process of its own that serves a season file, to be asked, limited and killed.
#pragma once

#include <sys/types.h>

#include <chrono>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace beetwright::serve {

/// A folder that is gone at the end.
class TemporaryFolder {
 public:
    explicit TemporaryFolder(const std::string& name);
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;
    ~TemporaryFolder();
    [[nodiscard]] std::string operator/(const std::string& name) const { return path_ / name; }

 private:
    std::filesystem::path path_;
};

/// Invents the demo season and imports it into a season file. Whether that worked.
bool make_demo_season(const std::string& programs, const TemporaryFolder& folder,
                      const std::string& season);

/// Runs a program to its end: what it ends with; -1 where a signal ended it.
int run_program(const std::vector<std::string>& words, const std::string& output = "/dev/null");

/// Runs a program for no longer than this.
void run_program_for(std::chrono::microseconds time, const std::vector<std::string>& words);

struct ServeOptions {
    std::optional<int> core;        ///< the only one it may run on
    std::string log = "/dev/null";  ///< where its standard error goes
};

/// Ends with this: no test leaves one behind, not even a test that crashes.
class ServedProcess {
 public:
    /// Starts `beetwright serve --open` and waits until it says where it is. Null: it did not.
    static std::unique_ptr<ServedProcess> start(const std::string& programs,
                                                const std::string& season,
                                                const ServeOptions& options = {});
    ServedProcess(const ServedProcess&) = delete;
    ServedProcess& operator=(const ServedProcess&) = delete;
    ~ServedProcess();

    [[nodiscard]] std::uint16_t port() const { return port_; }
    [[nodiscard]] pid_t id() const { return id_; }
    [[nodiscard]] bool is_running() const;

    /// At once, as by the power.
    void kill();
    /// As people stop it. What it ended with.
    int stop();

    /// No file that it writes may become longer than this; nothing: any may.
    [[nodiscard]] bool limit_files(std::optional<std::uint64_t> bytes) const;
    /// A line of /proc/<id>/status in kB: VmRSS is its memory now, VmHWM the most it has had.
    [[nodiscard]] long memory_kb(const std::string& line) const;

 private:
    ServedProcess(pid_t id, std::uint16_t port) : id_(id), port_(port) {}
    int wait();

    pid_t id_;
    std::uint16_t port_;
};

}  // namespace beetwright::serve
