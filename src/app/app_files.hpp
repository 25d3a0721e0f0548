// The app's own files, as the program carries them (tools/pack_app.mjs).
#pragma once

#include <map>
#include <string>
#include <string_view>

#include "app/access.hpp"
#include "base/result.hpp"

namespace beetwright::app {

class AppFiles {
 public:
    struct File {
        std::string type;
        std::string tag;
        std::string_view bytes;
        std::string_view compressed;  ///< by Brotli (RFC 7932)
    };

    /// `pack` outlives this. An empty one holds no app: it was not built. Problem: it is damaged.
    static Result<AppFiles> read(std::string_view pack);

    [[nodiscard]] bool empty() const { return files_.empty(); }
    [[nodiscard]] const File* find(std::string_view path) const;
    /// Bytes that a browser fetches before the app works, compressed.
    [[nodiscard]] std::size_t compressed_bytes() const;

 private:
    std::map<std::string, File, std::less<>> files_;
};

/// The pages and parts of the app, for anyone: what they show comes from routes that ask who it is.
/// Without an app the first page sends on to the report. `files` outlives the routes.
void add_app_routes(Access& access, const AppFiles& files);

}  // namespace beetwright::app
