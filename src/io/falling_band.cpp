#include "io/falling_band.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/number_text.hpp"
#include "io/filled.hpp"

namespace beetwright::io {
namespace {

using ledger::Account;
using ledger::Entry;
using ledger::Line;

/// Everything in the drawing's own units; the page scales it.
struct Geometry {
    double left;
    double band_width;  ///< of the standing crop
    double peel_end;    ///< where a peeled part ends
    double text_left;
    double width;            ///< of the whole drawing
    double row;              ///< height of one stage
    std::size_t line_chars;  ///< labels are broken into lines no longer than this
};
constexpr Geometry kWide{24.0, 330.0, 440.0, 470.0, 900.0, 52.0, 60};
constexpr Geometry kNarrow{8.0, 110.0, 146.0, 166.0, 380.0, 86.0, 24};

constexpr double kTop = 72.0;
constexpr double kLine = 18.0;  ///< from line to line of text
/// A loss below this share of the standing crop would be a hairline; the table has it.
constexpr double kLeastShare = 2e-4;

enum class Stage { field, storage, factory };

Stage stage_of(Line line) {
    if (line <= Line::pieces) {
        return Stage::field;
    }
    return line <= Line::storage_rot_and_frost ? Stage::storage : Stage::factory;
}

std::string_view css_class(Stage stage) {
    switch (stage) {
        case Stage::field: return "field";
        case Stage::storage: return "storage";
        case Stage::factory: return "factory";
    }
    return "";
}

double mean(const Entry& entry) {
    return std::abs(entry.sugar.value.si());
}

/// A place in the drawing.
std::string place(double at) {
    return fixed_text(at, 2);
}

std::string point(double x, double y) {
    return place(x) + " " + place(y);
}

/// Words broken into lines.
std::vector<std::string> wrapped(std::string_view text, std::size_t most) {
    std::vector<std::string> lines(1);
    for (std::size_t at = 0; at < text.size();) {
        const auto space = std::min(text.find(' ', at), text.size());
        const auto word = text.substr(at, space - at);
        if (!lines.back().empty() && width_of(lines.back()) + 1 + width_of(word) > most) {
            lines.emplace_back();
        }
        lines.back() += (lines.back().empty() ? "" : " ") + std::string(word);
        at = space + 1;
    }
    return lines;
}

class Drawing {
 public:
    Drawing(const Account& account, const PeopleUnits& units, const Geometry& geometry)
        : account_(account),
          units_(units),
          g_(geometry),
          scale_(g_.band_width / mean(account.entry(Line::standing_crop))) {}

    /// Everything between <svg> and </svg>; height() is known afterwards.
    std::string draw() {
        double right = g_.left + g_.band_width;
        double y = kTop;
        std::string edge = "M" + point(right, kTop - 8.0);
        std::string parts;
        for (const Entry& entry : account_.entries) {
            if (ledger::is_balance(entry.line) ||
                mean(entry) < kLeastShare * mean(account_.entry(Line::standing_crop))) {
                continue;
            }
            const double width = scale_ * mean(entry);
            parts += filled("<path class=\"peel {}\" data-line=\"{}\" data-width=\"{}\" d=\"{}\"/>",
                            css_class(stage_of(entry.line)), ledger::key(entry.line),
                            fixed_text(width, 4), peel_path(right, width, y));
            parts += whisker(entry, y) + label(entry, y);
            edge += "L" + point(right, y) + "L" + point(right - width, y);
            right -= width;
            y += g_.row;
        }
        const double bottom = y + 26.0;
        std::string out =
            filled("<path class=\"band\" d=\"{}L{}L{}L{}Z\"/>", edge, point(right, bottom),
                   point(g_.left, bottom), point(g_.left, kTop - 8.0));
        out += parts + balance(account_.entry(Line::standing_crop), 22.0);
        out += balance(account_.entry(Line::recovered), bottom + 26.0);
        const auto paid = units_.read(account_.entry(Line::paid).money);
        out += text("paid", g_.left, bottom + 78.0,
                    value_text(paid) + " " + std::string(paid.unit) + " paid (" +
                        interval_text(paid) + ")");
        height_ = bottom + 96.0;
        return out;
    }
    [[nodiscard]] double height() const { return height_; }

 private:
    static std::string text(std::string_view css, double x, double y, std::string_view words) {
        return filled("<text class=\"{}\" x=\"{}\" y=\"{}\">{}</text>", css, fixed_text(x, 1),
                      fixed_text(y, 1), escaped(words));
    }

    /// The part that peels off: from the band's right edge at `y`, `width` wide, bending out to the
    /// side.
    [[nodiscard]] std::string peel_path(double right, double width, double y) const {
        const double middle = y + 0.5 * g_.row;
        const double top = middle - 0.5 * width;
        const double bottom = middle + 0.5 * width;
        const double outer = std::min(right + 0.4 * g_.row, g_.peel_end);
        return filled("M{0} {1}C{0} {2} {0} {2} {3} {2}H{4}V{5}H{3}C{6} {5} {6} {5} {6} {1}Z",
                      place(right), place(y), place(top), place(outer), place(g_.peel_end),
                      place(bottom), place(right - width));
    }

    /// The 90 % interval of a loss, drawn beside the end of its peel to the same scale.
    [[nodiscard]] std::string whisker(const Entry& entry, double y) const {
        const double least = 0.5 * scale_ * std::abs(entry.sugar.high.si());
        const double most = 0.5 * scale_ * std::abs(entry.sugar.low.si());
        const double middle = y + 0.5 * g_.row;
        const double x = g_.peel_end + 8.0;
        return filled(
            "<path class=\"whisker\" d=\"M{0} {1}h8M{2} {1}V{3}M{2} {4}V{5}M{0} {5}h8\"/>",
            place(x - 4.0), place(middle - most), place(x), place(middle - least),
            place(middle + least), place(middle + most));
    }

    [[nodiscard]] std::string label(const Entry& entry, double y) const {
        const auto sugar = units_.read(entry.sugar);
        const auto money = units_.read(entry.money);
        std::string figures = value_text(sugar) + " " + std::string(sugar.unit);
        if (const auto interval = interval_text(sugar); !interval.empty()) {
            figures += " (" + interval + ")";
        }
        if (money.value != 0.0) {
            figures += "  " + value_text(money) + " " + std::string(money.unit);
        }
        const auto names = wrapped(ledger::words(entry.line), g_.line_chars);
        const auto numbers = wrapped(figures, g_.line_chars);
        const auto lines = static_cast<double>(names.size() + numbers.size());
        double at = y + 0.5 * g_.row - 0.5 * kLine * (lines - 1.0) + 5.0;
        std::string out;
        for (const auto& line : names) {
            out += text("name", g_.text_left, at, line);
            at += kLine;
        }
        for (const auto& line : numbers) {
            out += text("figures", g_.text_left, at, line);
            at += kLine;
        }
        return out;
    }

    [[nodiscard]] std::string balance(const Entry& entry, double y) const {
        const auto sugar = units_.read(entry.sugar);
        std::string figures = value_text(sugar) + " " + std::string(sugar.unit) + " of sugar";
        if (const auto interval = interval_text(sugar); !interval.empty()) {
            figures += " (" + interval + ")";
        }
        return text("balance", g_.left, y, ledger::words(entry.line)) +
               text("figures", g_.left, y + 22.0, figures);
    }

    const Account& account_;
    const PeopleUnits& units_;
    const Geometry& g_;
    double scale_;
    double height_ = 0.0;
};

std::string svg(const Account& account, const PeopleUnits& units, const std::string& id,
                const Geometry& geometry, std::string_view css) {
    Drawing drawing(account, units, geometry);
    const std::string inside = drawing.draw();
    return filled(
        "<svg class=\"falling-band {0}\" role=\"img\" aria-labelledby=\"{1}-{0}\" "
        "viewBox=\"0 0 {2} {3}\" xmlns=\"http://www.w3.org/2000/svg\"><title "
        "id=\"{1}-{0}\">Sugar of "
        "{4} falling from the standing crop to sugar recovered; the table has every "
        "figure</title>{5}</svg>",
        css, id, fixed_text(geometry.width, 0), fixed_text(drawing.height(), 0),
        escaped(account.name), inside);
}

}  // namespace

std::string escaped(std::string_view text) {
    std::string out;
    for (const char c : text) {
        switch (c) {
            case '&': out += "&amp;"; break;
            case '<': out += "&lt;"; break;
            case '>': out += "&gt;"; break;
            case '"': out += "&quot;"; break;
            case '\'': out += "&#39;"; break;
            default: out += c;
        }
    }
    return out;
}

std::string falling_band_svg(const Account& account, const PeopleUnits& units,
                             const std::string& id) {
    return svg(account, units, id, kWide, "wide") + svg(account, units, id, kNarrow, "narrow");
}

}  // namespace beetwright::io
