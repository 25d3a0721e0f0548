// The words on the command line: a program's verbs and their options.
//
// The library that reads them is seen in command_line.cpp alone: compiled into every verb it took
// longer than all verbs together.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace CLI {
class App;
class Option;
}  // namespace CLI

namespace beetwright::cli {

/// What a verb ends with: 0 done, 1 the input is wrong, 3 the outside world failed (disk, lock).
/// 2 is for words on the command line that cannot be read.
using Action = std::function<int()>;

/// An option of a verb. Each call says more about it.
class Option {
 public:
    Option& required();
    Option& one_of(const std::vector<std::string>& words);
    Option& from_to(std::size_t least, std::size_t most);
    Option& needs(const Option& other);
    Option& excludes(const Option& other);
    /// The help says what it is when nobody says otherwise.
    Option& shows_default();

 private:
    friend class Verb;
    explicit Option(CLI::Option* option) : option_(option) {}
    CLI::Option* option_;
};

class Verb {
 public:
    /// `name`: "--season", or "folder" for one that goes by its place. What is said goes into
    /// `value`, which must live as long as the command line.
    Option option(const std::string& name, std::string& value, const std::string& words);
    Option option(const std::string& name, std::uint16_t& value, const std::string& words);
    Option option(const std::string& name, std::size_t& value, const std::string& words);
    Option flag(const std::string& name, bool& value, const std::string& words);
    void does(Action action);
    /// `complaint` says what is missing of the options together, if anything is.
    void does(Action action, std::function<std::optional<std::string>()> complaint);

 private:
    friend class CommandLine;
    Verb(CLI::App* app, Action* chosen) : app_(app), chosen_(chosen) {}
    CLI::App* app_;
    Action* chosen_;
};

class CommandLine {
 public:
    CommandLine(const std::string& name, const std::string& words, const std::string& version);
    CommandLine(const CommandLine&) = delete;
    CommandLine& operator=(const CommandLine&) = delete;
    ~CommandLine();

    /// What a program does that has no verbs.
    Verb only();
    Verb verb(const std::string& name, const std::string& words);
    /// Does what the words say, and gives back what the program ends with.
    int run(int argc, char** argv);

 private:
    std::unique_ptr<CLI::App> app_;
    Action chosen_;
};

}  // namespace beetwright::cli
