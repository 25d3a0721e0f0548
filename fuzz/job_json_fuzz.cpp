// Any text: reading a long question must end in one that may take long, or in problems.
#include <algorithm>
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "io/job_json.hpp"
#include "io/questions.hpp"

using namespace beetwright;
using namespace beetwright::io;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto wish = read_job_wish({reinterpret_cast<const char*>(data), size});
    if (!wish) {
        require(!wish.problems().empty(), "a refusal says why");
        return 0;
    }
    const auto all = questions();
    const auto found = std::ranges::find(all, wish->question, &QuestionInfo::name);
    require(found != all.end() && may_take_long(*found), "a job is a long question");
    for (const auto& [name, value] : wish->parameters) {
        require(std::ranges::count(found->parameters, name, &ParameterInfo::name) == 1,
                "a parameter that was read is one of the question's");
        require(name != "draws" || value.find_first_not_of("0123456789") == std::string::npos,
                "draws are digits");
    }
    return 0;
}
