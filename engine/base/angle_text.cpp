#include "base/angle_text.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "base/length_text.hpp"
#include "base/quoted.hpp"
#include "base/text_scan.hpp"

namespace boardring {
namespace {

using Kind = Token::Kind;
using Tokens = std::vector<Token>;

constexpr double kWholeTurn_deg = 360.0;

constexpr std::string_view kWriteLike = "Write degrees, like 22.5, 22-1/2 or 22\u00B030', or a rise in a run, like 5 in 12";

Finding ambiguous(std::string_view text, std::string_view first, std::string_view second, std::string fix) {
    return refused_text("angle.ambiguous", fmt::format("{} can mean {} or {}", in_quotes(text), first, second), std::move(fix));
}

Finding not_understood(std::string_view text, std::string_view why, std::string fix = std::string(kWriteLike)) {
    return refused_text("angle.not-understood", fmt::format("{} {}", in_quotes(text), why), std::move(fix));
}

std::string plain(const Quantity& q) {
    return show_number(q.ratio.value(), 6);
}

bool is_word(const Token& token, std::string_view word) {
    return token.kind == Kind::word && token.text == word;
}

bool is_end(const Tokens& tokens, std::size_t at) {
    return tokens[at].kind == Kind::end;
}

bool is_degree_word(const Token& token) {
    return token.kind == Kind::degree || is_word(token, "deg") || is_word(token, "degree") || is_word(token, "degrees");
}

// The angle whose tangent is `rise` over `run`, and what half a unit in the last digit of both does to it.
AngleRead slope(const Quantity& rise, const Quantity& run) {
    const double up = rise.ratio.value();
    const double along = run.ratio.value();
    const double square = up * up + along * along;
    const double half_step = 0.5 * (rise.last_unit * along + run.last_unit * up) / square;
    return {degrees(std::atan2(up, along)), degrees(half_step)};
}

// `5 in 12`, either order: the angle from the longer leg, so it is at most 45.
Result<AngleRead> rise_in_run(std::string_view text, const Quantity& a, const Quantity& b) {
    const bool a_smaller = a.ratio.value() <= b.ratio.value();
    const Quantity& rise = a_smaller ? a : b;
    const Quantity& run = a_smaller ? b : a;
    if (run.ratio.value() <= 0.0) return not_understood(text, "is no slope: the run is 0");
    return slope(rise, run);
}

// Roofers say 5/12 pitch for rise over run; older books say 1/4 pitch for rise over the whole span, twice the run.
Result<AngleRead> pitch(std::string_view text, Ratio part) {
    if (part.num > part.den)
        return not_understood(text, "is a pitch steeper than 45",
                              "Write the angle in degrees, or the rise in the run, like 12 in 5");
    const double as_run_deg = degrees(std::atan2(part.num, part.den));
    if (part.den != 12.0) {
        const double as_span_deg = degrees(std::atan2(2.0 * part.num, part.den));
        return ambiguous(text, fmt::format("{} degrees (rise over run)", show_angle(as_run_deg, 2)),
                         fmt::format("{} degrees (rise over the whole span)", show_angle(as_span_deg, 2)),
                         fmt::format("Write {} in 12 or {} in 12", show_number(12.0 * part.num / part.den, 4),
                                     show_number(24.0 * part.num / part.den, 4)));
    }
    Quantity rise;
    rise.ratio = {part.num, 1.0};
    Quantity run;
    run.ratio = {part.den, 1.0};
    return slope(rise, run);
}

Result<AngleRead> off(std::string_view text, const Quantity& less, const Quantity& whole) {
    if (less.ratio.value() > whole.ratio.value())
        return not_understood(text, fmt::format("takes more off than the {} there is", plain(whole)));
    const auto from = whole.ratio.exact(), taken = less.ratio.exact();
    const auto left = from && taken ? *from - *taken : std::nullopt;
    return AngleRead{left ? nearest_double(*left) : whole.ratio.value() - less.ratio.value(), 0.5 * less.last_unit};
}

// `whole` sixtieths of what `more` counts, and `more`: degrees and minutes in minutes.
std::optional<WholeRatio> in_sixtieths(std::optional<WholeRatio> whole, const Ratio& more) {
    const auto rest = more.exact();
    const auto counted = whole && rest ? *whole * WholeRatio{60, 1} : std::nullopt;
    return counted ? *counted + *rest : std::nullopt;
}

// So many parts of a degree, rounded once; `nearly` where they do not fit.
double degrees_of(std::optional<WholeRatio> parts, std::uint64_t in_a_degree, double nearly) {
    const auto deg = parts ? *parts * WholeRatio{1, in_a_degree} : std::nullopt;
    return deg ? nearest_double(*deg) : nearly;
}

// Behind a degree sign: minutes and seconds, each below 60, only the last with a part.
Result<AngleRead> minutes_and_seconds(std::string_view text, const Tokens& tokens, std::size_t at, const Quantity& whole) {
    const std::string fix = "Write degrees, minutes and seconds like 22\u00B030'15\", or a decimal like 22.5";
    if (!whole.whole) return not_understood(text, "has minutes after degrees that are not whole", fix);
    Quantity minutes;
    if (!read_quantity(tokens, at, minutes)) return not_understood(text, "is not an angle I can read", fix);
    if (tokens[at].kind != Kind::single_mark)
        return not_understood(text, fmt::format("has no minute mark behind the {}", plain(minutes)), fix);
    ++at;
    double rest_min = minutes.ratio.value();
    double last_min = minutes.last_unit;
    const std::optional<WholeRatio> all_min = in_sixtieths(whole.ratio.exact(), minutes.ratio);
    if (rest_min >= 60.0) return not_understood(text, fmt::format("has {} minutes; a degree has 60", plain(minutes)), fix);
    if (!is_end(tokens, at)) {
        Quantity seconds;
        if (!minutes.whole || !read_quantity(tokens, at, seconds) || tokens[at].kind != Kind::double_mark ||
            !is_end(tokens, at + 1)) {
            return not_understood(text, "is not an angle I can read", fix);
        }
        if (seconds.ratio.value() >= 60.0)
            return not_understood(text, fmt::format("has {} seconds; a minute has 60", plain(seconds)), fix);
        last_min = seconds.last_unit / 60.0;
        const double all_s = (whole.ratio.value() * 60.0 + rest_min) * 60.0 + seconds.ratio.value();
        return AngleRead{degrees_of(in_sixtieths(all_min, seconds.ratio), 3600, all_s / 3600.0), 0.5 * last_min / 60.0};
    }
    return AngleRead{degrees_of(all_min, 60, (whole.ratio.value() * 60.0 + rest_min) / 60.0), 0.5 * last_min / 60.0};
}

Finding comma_finding(std::string_view text, const Tokens& tokens) {
    const auto comma = std::find_if(tokens.begin(), tokens.end(), [](const Token& token) { return token.kind == Kind::comma; });
    const auto more = std::count_if(tokens.begin(), tokens.end(), [](const Token& token) { return token.kind == Kind::comma; });
    const bool between = comma != tokens.begin() && (comma - 1)->kind == Kind::number && (comma - 1)->whole &&
                         (comma + 1)->kind == Kind::number && (comma + 1)->whole;
    if (more != 1 || !between)
        return not_understood(text, "has a comma that I cannot place", "Write one number with a point for decimals, like 22.5");
    const std::string decimal = fmt::format("{}.{}", (comma - 1)->text, (comma + 1)->text);
    return ambiguous(text, decimal + " degrees", fmt::format("two numbers, {} and {}", (comma - 1)->text, (comma + 1)->text),
                     fmt::format("Write {} with a point if that is meant", decimal));
}

Finding unknown_text(std::string_view text, const Tokens& tokens) {
    for (const Token& token : tokens) {
        if (token.kind == Kind::comma) return comma_finding(text, tokens);
    }
    return not_understood(text, "is not an angle I can read");
}

// `22-30`, `22 30`: degrees and minutes, or two angles.
Finding two_numbers(std::string_view text, const Quantity& a, const Quantity& b) {
    const std::string apart = fmt::format("two numbers, {} and {}", plain(a), plain(b));
    if (!a.whole || b.ratio.value() >= 60.0)
        return not_understood(text, fmt::format("holds {}", apart), "Write the one angle you mean");
    const std::string minutes = fmt::format("{}\u00B0{}'", plain(a), plain(b));
    return ambiguous(text, fmt::format("{} ({} degrees)", minutes, show_number(a.ratio.value() + b.ratio.value() / 60.0, 3)),
                     apart, fmt::format("Write {} if degrees and minutes are meant, otherwise the one angle you mean", minutes));
}

Result<AngleRead> read_angle(std::string_view text, const Tokens& tokens, std::size_t at) {
    Quantity first;
    if (!read_quantity(tokens, at, first)) return unknown_text(text, tokens);
    const Token& next = tokens[at];
    if (is_word(next, "pitch") && first.has_fraction && first.ratio.num > 0.0 && is_end(tokens, at + 1))
        return pitch(text, first.ratio);
    Quantity second;
    if (is_word(next, "in") || is_word(next, "off")) {
        std::size_t behind = at + 1;
        if (!read_quantity(tokens, behind, second) || !is_end(tokens, behind)) return unknown_text(text, tokens);
        return next.text == "in" ? rise_in_run(text, first, second) : off(text, first, second);
    }
    if (first.improper) {
        return ambiguous(text, fmt::format("{} degrees", show_number(first.ratio.value(), 4)),
                         "a fraction with a slip or a space missing",
                         fmt::format("Write {} if that is meant", show_number(first.ratio.value(), 4)));
    }
    const AngleRead read{first.ratio.value(), 0.5 * first.last_unit};
    if (is_end(tokens, at)) return read;
    if (next.kind == Kind::percent || is_word(next, "percent")) {
        const bool closed = is_end(tokens, at + 1) ||
                            ((is_word(tokens[at + 1], "slope") || is_word(tokens[at + 1], "fall")) && is_end(tokens, at + 2));
        if (!closed) return unknown_text(text, tokens);
        Quantity run;
        run.ratio = {100.0, 1.0};
        run.last_unit = 0.0;
        return slope(first, run);
    }
    if (is_degree_word(next)) {
        if (is_end(tokens, at + 1)) return read;
        return minutes_and_seconds(text, tokens, at + 1, first);
    }
    std::size_t behind = at + (next.kind == Kind::dash ? 1U : 0U);
    if (read_quantity(tokens, behind, second) && is_end(tokens, behind)) return two_numbers(text, first, second);
    return unknown_text(text, tokens);
}

}  // namespace

Result<AngleRead> parse_angle(std::string_view text) {
    if (text.size() > kLongestText) {
        return not_understood(text, fmt::format("is {} bytes long; an angle has at most {}", text.size(), kLongestText));
    }
    const Tokens tokens = scan_text(text);
    if (is_end(tokens, 0)) return refused_text("angle.not-understood", "There is no angle here", std::string(kWriteLike));
    const bool negative = tokens[0].kind == Kind::dash;
    const std::size_t at = negative || tokens[0].kind == Kind::plus ? 1 : 0;
    Result<AngleRead> read = read_angle(text, tokens, at);
    if (!read.ok()) return read;
    AngleRead angle = read.value();
    if (!(angle.deg <= kWholeTurn_deg)) return not_understood(text, "is more than a whole turn of 360 degrees");
    if (negative && angle.deg != 0.0) angle.deg = -angle.deg;
    return angle;
}

std::string show_angle(double deg, int decimals) {
    return show_number(deg, decimals);
}

}  // namespace boardring
