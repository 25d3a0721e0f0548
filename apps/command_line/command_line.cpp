#include "command_line/command_line.hpp"

#include <CLI/CLI.hpp>
#include <utility>

namespace beetwright::cli {

Option& Option::required() {
    option_->required();
    return *this;
}

Option& Option::one_of(const std::vector<std::string>& words) {
    option_->check(CLI::IsMember(words));
    return *this;
}

Option& Option::from_to(std::size_t least, std::size_t most) {
    option_->check(CLI::Range(least, most));
    return *this;
}

Option& Option::needs(const Option& other) {
    option_->needs(other.option_);
    return *this;
}

Option& Option::excludes(const Option& other) {
    option_->excludes(other.option_);
    return *this;
}

Option& Option::shows_default() {
    option_->capture_default_str();
    return *this;
}

Option Verb::option(const std::string& name, std::string& value, const std::string& words) {
    return Option(app_->add_option(name, value, words));
}

Option Verb::option(const std::string& name, std::uint16_t& value, const std::string& words) {
    return Option(app_->add_option(name, value, words));
}

Option Verb::option(const std::string& name, std::size_t& value, const std::string& words) {
    return Option(app_->add_option(name, value, words));
}

Option Verb::flag(const std::string& name, bool& value, const std::string& words) {
    return Option(app_->add_flag(name, value, words));
}

void Verb::does(Action action) {
    does(std::move(action), [] { return std::nullopt; });
}

void Verb::does(Action action, std::function<std::optional<std::string>()> complaint) {
    app_->callback(
        [chosen = chosen_, action = std::move(action), complaint = std::move(complaint)] {
            if (const auto missing = complaint()) {
                throw CLI::RequiredError(*missing);
            }
            *chosen = action;
        });
}

CommandLine::CommandLine(const std::string& name, const std::string& words,
                         const std::string& version)
    : app_(std::make_unique<CLI::App>(words, name)) {
    app_->set_version_flag("--version", version);
}

CommandLine::~CommandLine() = default;

Verb CommandLine::only() {
    return {app_.get(), &chosen_};
}

Verb CommandLine::verb(const std::string& name, const std::string& words) {
    app_->require_subcommand(1);
    return {app_->add_subcommand(name, words), &chosen_};
}

int CommandLine::run(int argc, char** argv) {
    try {
        app_->parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        const int code = app_->exit(error);
        return code == 0 ? 0 : 2;
    }
    return chosen_();
}

}  // namespace beetwright::cli
