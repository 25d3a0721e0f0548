// The server under the load of a large group on one core: 50 tablets that sync while 500 questions
// a second are asked.
//
// Goal: 99 of 100 questions answered within 20 ms and under 100 MB, while every sheet is safe on
// the disk before it is acknowledged. Questions are asked by a schedule whether or not earlier ones
// have been answered, so that waiting for the server counts. The ceiling is the same schedule of
// questions that need no season: what the network, the threads and this machine's other work cost.
// Ratios in one run; nothing here passes or fails.
#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <cstdio>
#include <memory>
#include <string>
#include <thread>
#include <vector>

#include "base/random.hpp"
#include "records/season_file.hpp"
#include "serve/numbered_sheets.hpp"
#include "serve/served_process.hpp"

namespace {

using namespace beetwright;
using std::chrono::steady_clock;

constexpr int kTablets = 50;
constexpr double kBetweenSheets_s = 2.0;
constexpr int kBeets = 10;  // a sheet: of one spot
constexpr int kQuestionsPerSecond = 500;
constexpr int kReaders = 24;  // connections, so many questions can be under way
constexpr double kGoal_ms = 20.0;
constexpr double kGoal_MB = 100.0;

double ms_since(steady_clock::time_point start) {
    return std::chrono::duration<double, std::milli>(steady_clock::now() - start).count();
}
steady_clock::duration seconds(double count) {
    return std::chrono::duration_cast<steady_clock::duration>(std::chrono::duration<double>(count));
}

struct Latencies {
    std::vector<double> ms;
    int failed = 0;

    void add(const Latencies& other) {
        ms.insert(ms.end(), other.ms.begin(), other.ms.end());
        failed += other.failed;
    }
    /// The least that a share of them is not above.
    [[nodiscard]] double quantile(double share) const {
        if (ms.empty()) {
            return 0.0;
        }
        std::vector<double> sorted = ms;
        std::ranges::sort(sorted);
        const auto last = sorted.size() - 1;
        return sorted[std::min(last, static_cast<std::size_t>(share * double(sorted.size())))];
    }
    [[nodiscard]] std::string text() const {
        char line[120];
        std::snprintf(line, sizeof line, "p50 %.2f ms, p99 %.2f ms, most %.1f ms, %d failed",
                      quantile(0.50), quantile(0.99), quantile(1.0), failed);
        return line;
    }
};

std::string encoded(const std::string& name) {
    std::string out;
    for (const char letter : name) {
        out += letter == ' ' ? std::string("%20") : std::string(1, letter);
    }
    return out;
}

/// What readers ask, one after another: the kinds in turn, the fields in turn.
class Questions {
 public:
    explicit Questions(std::vector<std::string> fields) : fields_(std::move(fields)) {}

    static constexpr std::array<const char*, 4> kKinds{"ledger", "check", "season", "enough"};
    [[nodiscard]] static std::size_t kind_of(int number) {
        return static_cast<std::size_t>(number) % kKinds.size();
    }
    [[nodiscard]] std::string path(int number) const {
        const auto round = static_cast<std::size_t>(number) / kKinds.size();
        const auto field = encoded(fields_[round % fields_.size()]);
        switch (kind_of(number)) {
            case 0: return "/api/v1/ledger?field=" + field;
            case 1: return "/api/v1/check?field=" + field;
            case 2: return "/api/v1/season";
            default:
                return "/api/v1/enough?spots=" + std::to_string(round % 5) + "/10,0/10," +
                       std::to_string(round % 3) + "/7";
        }
    }

 private:
    std::vector<std::string> fields_;
};

/// One reader's connection; takes answers compressed and remembers the season's tag, as a browser
/// does.
class Reader {
 public:
    explicit Reader(std::uint16_t port) : client_(port) {}

    bool ask(const std::string& path) {
        const bool is_season = path == "/api/v1/season";
        std::string headers = "Accept-Encoding: gzip, deflate, br\r\n";
        if (is_season && !tag_.empty()) {
            headers += "If-None-Match: " + tag_ + "\r\n";
        }
        client_.say(serve::get(path, headers));
        const auto answer = client_.hear();
        if (is_season) {
            const auto at = answer.find("ETag: ");
            tag_ = at == std::string::npos ? ""
                                           : answer.substr(at + 6, answer.find('\r', at) - at - 6);
        }
        const int status = serve::status_of(answer);
        return status == 200 || (status == 304 && is_season);
    }

 private:
    http::Client client_;
    std::string tag_;
};

/// Asks by the schedule for so long; latencies by kind of question.
template <class Path>
std::vector<Latencies> ask_for(double length_s, std::uint16_t port, std::size_t kinds, Path path) {
    const int count = static_cast<int>(length_s * kQuestionsPerSecond);
    const auto start = steady_clock::now() + seconds(0.1);
    std::atomic<int> next = 0;
    std::vector<std::vector<Latencies>> all(kReaders, std::vector<Latencies>(kinds));
    {
        std::vector<std::jthread> readers;
        for (auto& own : all) {
            readers.emplace_back([&] {
                Reader reader(port);
                for (int number = next++; number < count; number = next++) {
                    const auto due = start + seconds(double(number) / kQuestionsPerSecond);
                    std::this_thread::sleep_until(due);
                    auto& latencies = own[static_cast<std::size_t>(number) % kinds];
                    latencies.failed += reader.ask(path(number)) ? 0 : 1;
                    latencies.ms.push_back(ms_since(due));
                }
            });
        }
    }
    std::vector<Latencies> together(kinds);
    for (const auto& own : all) {
        for (std::size_t k = 0; k < kinds; ++k) {
            together[k].add(own[k]);
        }
    }
    return together;
}

std::string sheet(int number, const std::string& field, RandomStream& random) {
    std::string rows =
        "sheet,supersedes,field,machine,operator,at,seen_at,spot,topping,scar [cm],"
        "tip_break [cm],skin_damage [cm2],rot,frost\\n";
    for (int beet = 0; beet < kBeets; ++beet) {
        rows += serve::sheet_id(number).text() + ",," + field + ",,,2031-10-05T09:00:00Z,tank," +
                "1" + (random.chance(0.1) ? ",too deep" : ",correct") + ",,2-4,,,\\n";
    }
    return R"({"beets.csv": ")" + rows + R"("})";
}

/// One tablet: a sheet every two seconds until it is told to stop.
void sync_until(const std::stop_token& stop, int tablet, std::uint16_t port,
                const std::vector<std::string>& fields, Latencies& latencies) {
    RandomStream random(1, "serve bench", static_cast<std::uint64_t>(tablet));
    http::Client client(port);
    auto due = steady_clock::now() + seconds(kBetweenSheets_s * random.uniform());
    for (int round = 0; !stop.stop_requested(); ++round) {
        std::this_thread::sleep_until(due);
        const auto& field = fields[static_cast<std::size_t>(tablet + round) % fields.size()];
        client.say(
            serve::post("/api/v1/observations", sheet(tablet + kTablets * round, field, random)));
        latencies.failed += serve::status_of(client.hear()) == 200 ? 0 : 1;
        latencies.ms.push_back(ms_since(due));
        due += seconds(kBetweenSheets_s * (0.5 + random.uniform()));
    }
}

/// One sheet for each field: no field is without an answer to its check.
void count_everywhere(std::uint16_t port, const std::vector<std::string>& fields) {
    RandomStream random(2, "serve bench");
    http::Client client(port);
    for (std::size_t f = 0; f < fields.size(); ++f) {
        client.say(serve::post("/api/v1/observations",
                               sheet(1'000'000 + static_cast<int>(f), fields[f], random)));
        client.hear();
    }
}

struct Report {
    std::vector<Latencies> questions;
    Latencies syncs;
};

Report under_load(double length_s, std::uint16_t port, const std::vector<std::string>& fields) {
    std::vector<Latencies> syncs(kTablets);
    Report report;
    {
        std::vector<std::jthread> tablets;
        for (int t = 0; t < kTablets; ++t) {
            tablets.emplace_back([&, t](const std::stop_token& stop) {
                sync_until(stop, t, port, fields, syncs[static_cast<std::size_t>(t)]);
            });
        }
        const Questions questions(fields);
        report.questions = ask_for(length_s, port, Questions::kKinds.size(),
                                   [&](int number) { return questions.path(number); });
        for (auto& tablet : tablets) {
            tablet.request_stop();  // all of them, before the first is waited for
        }
    }
    for (const auto& own : syncs) {
        report.syncs.add(own);
    }
    return report;
}

void print(const Report& report, const Latencies& ceiling, double memory_MB) {
    Latencies all;
    for (const auto& own : report.questions) {
        all.add(own);
    }
    std::printf("serve: %d questions/s and %d tablets on one core: %s; goal %.0f ms: ratio %.2f\n",
                kQuestionsPerSecond, kTablets, all.text().c_str(), kGoal_ms,
                all.quantile(0.99) / kGoal_ms);
    for (std::size_t k = 0; k < Questions::kKinds.size(); ++k) {
        std::printf("       %-7s %s\n", Questions::kKinds[k], report.questions[k].text().c_str());
    }
    std::printf("       %zu sheets of %d beets: %s\n", report.syncs.ms.size(), kBeets,
                report.syncs.text().c_str());
    std::printf("       questions that need no season: %s: reaches %.0f %% of it\n",
                ceiling.text().c_str(), 100.0 * ceiling.quantile(0.99) / all.quantile(0.99));
    std::printf("       peak memory of the server %.0f MB; goal %.0f MB\n", memory_MB, kGoal_MB);
}

}  // namespace

int main(int count, char** words) {
    const double length_s = count > 1 ? std::atof(words[1]) : 12.0;
    const serve::TemporaryFolder folder("serve_bench");
    const auto path = folder / "season.beet";
    if (!serve::make_demo_season(BEETWRIGHT_BINARY_DIR, folder, path)) {
        std::fputs("the demo season could not be made\n", stderr);
        return 1;
    }
    std::vector<std::string> fields;
    {
        const auto file = records::SeasonFile::open(path, records::OpenMode::read_only);
        const auto season = file->load();
        for (const auto& field : season->fields) {
            fields.push_back(field.name);
        }
    }
    const auto server = serve::ServedProcess::start(BEETWRIGHT_BINARY_DIR, path, {.core = 0});
    if (!server) {
        std::fputs("the server did not start\n", stderr);
        return 1;
    }
    count_everywhere(server->port(), fields);
    const auto ceiling =
        ask_for(3.0, server->port(), 1, [](int) { return std::string("/healthz"); }).front();
    const auto report = under_load(length_s, server->port(), fields);
    print(report, ceiling, double(server->memory_kb("VmHWM")) / 1024.0);
    return 0;
}
