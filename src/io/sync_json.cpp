#include "io/sync_json.hpp"

#include "io/json.hpp"

namespace beetwright::io {

std::string receipt_json(std::int64_t fresh, std::int64_t known) {
    return Json{{"new", fresh}, {"known", known}}.line() + "\n";
}

std::string reading_json(const std::map<std::string, std::string>& fresh_tables, std::int64_t fresh,
                         std::int64_t known) {
    return Json{{"new", fresh}, {"known", known}, {"tables", fresh_tables}}.line() + "\n";
}

std::string photos_json(std::span<const PhotoShown> all) {
    Json list = Json::array();
    for (const auto& one : all) {
        list.push_back({{"id", one.id.text()},
                        {"observation", one.observation.text()},
                        {"field", one.field},
                        {"at", to_text(one.at)},
                        {"by", one.by},
                        {"type", one.type},
                        {"bytes", one.size}});
    }
    return Json{{"photos", std::move(list)}}.line() + "\n";
}

std::string received_json(std::span<const Received> all) {
    Json object = Json::object();
    for (const auto& one : all) {
        object[one.observation.text()] = {{"by", one.by}, {"at", to_text(one.at)}};
    }
    return object.line() + "\n";
}

}  // namespace beetwright::io
