#include "app/photo_routes.hpp"

#include <algorithm>
#include <set>

#include "app/answers.hpp"
#include "app/compression.hpp"
#include "engine/field_named.hpp"
#include "io/jpeg.hpp"
#include "io/sync_json.hpp"

namespace beetwright::app {
namespace {

using http::Method;
using http::PathValues;
using http::Request;
using http::Response;
using records::Photo;

constexpr std::size_t kMostBytes = 3'000'000;
constexpr const char* kType = "image/jpeg";

/// What a request says of its photograph; what is wrong with any of it is gathered.
class Asked {
 public:
    Asked(const Request& request, const std::set<std::string>& known)
        : query_(request.target.query) {
        for (const auto& [name, value] : query_) {
            if (!known.contains(name)) {
                problems_.push_back(unknown_parameter(name));
            }
        }
    }
    [[nodiscard]] std::string text(const std::string& name) const {
        const auto found = query_.find(name);
        return found == query_.end() ? std::string() : found->second;
    }
    Uuid id(const std::string& name) {
        const auto id = Uuid::parse(text(name));
        if (!id || id->is_nil()) {
            problems_.push_back(wrong_parameter(name, "'" + text(name) + "' is not an id",
                                                "write a UUID, as the tablet makes them"));
        }
        return id.value_or(Uuid());
    }
    io::Metadata metadata() {
        const auto word = text("keep_metadata");
        if (!word.empty() && word != "0" && word != "1") {
            problems_.push_back(wrong_parameter(
                "keep_metadata", "'" + word + "' is neither yes nor no", "write 1 or 0"));
        }
        return word == "1" ? io::Metadata::keep : io::Metadata::strip;
    }
    [[nodiscard]] const Problems& problems() const { return problems_; }

 private:
    const std::map<std::string, std::string>& query_;
    Problems problems_;
};

/// Why a request brings no photograph that is taken; nothing where it does.
std::optional<Response> refuse_body(const Request& request) {
    const auto type = request.header("content-type");
    if (type.substr(0, type.find(';')) != kType) {
        return refused({Problem{ProblemKind::input,
                                {.file = "", .line = 0, .field = "Content-Type"},
                                "this is not said to be a JPEG",
                                "send a photograph as image/jpeg"}},
                       415);
    }
    if (request.body.size() > kMostBytes) {
        return refused({Problem{ProblemKind::limit,
                                {},
                                "this photograph is larger than 3 MB",
                                "make it smaller before it is sent: 2000 pixels do"}},
                       413);
    }
    return std::nullopt;
}

Response take(SeasonKeeper& keeper, Photos& photos, const Request& request, const Person& person,
              Instant now) {
    if (auto refusal = refuse_body(request)) {
        return std::move(*refusal);
    }
    Asked asked(request, {"id", "observation", "field", "keep_metadata"});
    Photo photo{.id = asked.id("id"),
                .observation = asked.id("observation"),
                .field = asked.text("field"),
                .at = now,
                .by = person.name,
                .type = kType};
    const auto metadata = asked.metadata();
    if (!asked.problems().empty()) {
        return refused(asked.problems());
    }
    const auto snapshot = keeper.season();
    if (!snapshot) {
        return refused(snapshot.problems());
    }
    const auto& season = (*snapshot)->season;
    if (std::ranges::find(season.fields, photo.field, &ledger::Field::name) ==
        season.fields.end()) {
        return refused(engine::no_field_named(season, photo.field));
    }
    const auto jpeg = io::read_jpeg(request.body, metadata);
    if (!jpeg) {
        return refused(jpeg.problems());
    }
    const auto kept =
        photos.with([&](auto& store) { return store.add(photo, jpeg->bytes, person.id); });
    if (!kept) {
        return refused(kept.problems());
    }
    const bool is_fresh = *kept == records::Kept::fresh;
    return json(io::receipt_json(is_fresh ? 1 : 0, is_fresh ? 0 : 1));
}

Response list(Photos& photos, const Request& request) {
    const Asked asked(request, {"field"});
    if (!asked.problems().empty()) {
        return refused(asked.problems());
    }
    const auto all = photos.with([&](auto& store) { return store.list(asked.text("field")); });
    if (!all) {
        return refused(all.problems());
    }
    std::vector<io::PhotoShown> shown;
    for (const auto& photo : *all) {
        shown.push_back({.id = photo.id,
                         .observation = photo.observation,
                         .field = photo.field,
                         .at = photo.at,
                         .by = photo.by,
                         .type = photo.type,
                         .size = photo.size});
    }
    return compressed(json(io::photos_json(shown)), request);
}

// A picture and nothing else, whatever its bytes are made to look like; `nosniff` goes with every
// answer (http/server.cpp). It never changes, so a browser need not ask again.
Response show(Photos& photos, const std::string& id) {
    auto bytes =
        photos.with([&](auto& store) { return store.bytes_of(Uuid::parse(id).value_or(Uuid())); });
    if (!bytes) {
        return refused(bytes.problems());
    }
    return {.status = 200,
            .type = kType,
            .body = std::move(*bytes),
            .headers = {{"Cache-Control", "private, max-age=31536000, immutable"},
                        {"Content-Security-Policy",
                         "default-src 'none'; frame-ancestors 'none'; base-uri 'none'; "
                         "form-action 'none'; sandbox"},
                        {"Cross-Origin-Resource-Policy", "same-origin"},
                        {"Referrer-Policy", "no-referrer"}}};
}

}  // namespace

Result<std::unique_ptr<Photos>> Photos::open(const std::string& season_file) {
    auto store = records::PhotoStore::open(season_file);
    if (!store) {
        return store.problems();
    }
    return std::unique_ptr<Photos>(new Photos(std::move(*store)));
}

void add_photo_routes(Access& access, SeasonKeeper& keeper, Photos& photos,
                      std::function<Instant()> clock) {
    access.add(Method::post, "/api/v1/photos", Needs::operator_,
               [&keeper, &photos, clock = std::move(clock)](
                   const Request& request, const PathValues&, const Person* person) {
                   return take(keeper, photos, request, *person, clock());
               });
    access.add(Method::get, "/api/v1/photos", Needs::viewer,
               [&photos](const Request& request, const PathValues&, const Person*) {
                   return list(photos, request);
               });
    access.add(Method::get, "/api/v1/photos/{id}", Needs::viewer,
               [&photos](const Request&, const PathValues& values, const Person*) {
                   return show(photos, values.at("id"));
               });
}

}  // namespace beetwright::app
