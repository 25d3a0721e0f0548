// Any text: reading what people send must end in what was asked or in problems that say why.
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "io/people_json.hpp"

using namespace beetwright;
using namespace beetwright::io;

namespace {

template <class Asked>
bool is_read(const Result<Asked>& asked) {
    require(asked.ok() || !asked.problems().empty(), "a refusal says why");
    return asked.ok();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    const bool is_sign_in = is_read(read_name_and_password(text));
    const bool is_password = is_read(read_password_change(text));
    const auto change = read_person_change(text);
    if (is_read(change)) {
        require(change->role || change->active, "a change changes something");
    }
    const auto wish = read_invitation_wish(text);
    if (is_read(wish)) {
        require(!word_of(wish->role).empty(), "a role that was read is one");
        const auto shown =
            invitation_json({.role = wish->role, .name_hint = wish->name_hint, .expires = {}});
        require(!shown.empty(), "what was read can be shown");
    }
    require(static_cast<int>(is_sign_in) + static_cast<int>(is_password) +
                    static_cast<int>(change.ok() || wish.ok()) <=
                1,
            "one object is not two requests");
    return 0;
}
