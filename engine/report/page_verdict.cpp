#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/angle.hpp"
#include "base/angle_text.hpp"
#include "base/names.hpp"
#include "report/buying_text.hpp"
#include "report/page_parts.hpp"
#include "report/picture.hpp"
#include "plan/plan_view.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr double kSame = 1e-9;             // mm or deg: equal as asked, different only in the last digits
constexpr std::size_t kTitleColumns = 90;  // where the unit of the page ends
constexpr std::size_t kMostTitle = 48;
constexpr std::size_t kMostAnglesListed = 10;
constexpr std::size_t kMostEndsNamed = 4;
constexpr std::size_t kMostSettingsListed = 6;
constexpr std::size_t kMostSettingsBeyond = 4;
constexpr std::size_t kMostSectionsTold = 3;
constexpr std::size_t kSeenColumns = 20;  // left of the picture
constexpr std::size_t kPictureColumns = 42;
constexpr std::size_t kPictureGap = 4;
constexpr double kNearStopDeg = 1.0;    // a setting so near the saw's stop is told
constexpr double kHeavySoilKg = 100.0;  // common practice: from here a balcony wants somebody's sum

// A size as the maker gave it: all its digits, not rounded to the rule.
std::string as_given(double mm, const Project& project) {
    if (in_inches(project)) return show_length(mm, {project.unit, 25.4 / 64.0});
    return show_number(mm / unit_in_mm(project.unit), 3);
}

const char* line_words(OutlineLine line) {
    switch (line) {
        case OutlineLine::inside:
            return "inside";
        case OutlineLine::outside:
            return "outside";
        case OutlineLine::middle:
            return "along the middle";
    }
    return "";
}

std::string size_words(const RegularOutline& regular, const Project& project) {
    const std::string size = as_given(regular.size_mm, project);
    switch (regular.of) {
        case RegularOutline::Of::side:
            return fmt::format("sides of {}", size);
        case RegularOutline::Of::over_flats:
            return size + " over the flats";
        case RegularOutline::Of::over_points:
            return size + " over the points";
        case RegularOutline::Of::inscribed:
            return fmt::format("round a circle of {} across", size);
        case RegularOutline::Of::circumscribed:
            return fmt::format("in a circle of {} across", size);
    }
    return size;
}

struct ShapeWords {
    const Project& project;
    std::size_t sides;
    std::string operator()(const RegularOutline& o) const {
        return fmt::format("{}, {} {}", ring_name(o.corners), size_words(o, project), line_words(project.outline.line));
    }
    std::string operator()(const RectangleOutline& o) const {
        return fmt::format("rectangle, {} x {} {}", as_given(o.length_mm, project), as_given(o.width_mm, project),
                           line_words(project.outline.line));
    }
    std::string operator()(const ArcOutline& o) const {
        return fmt::format("arc of {} pieces, radius {} {}", o.pieces,
                           show_number(o.radius_mm / unit_in_mm(project.unit == Unit::foot ? Unit::inch : project.unit), 1),
                           line_words(project.outline.line));
    }
    std::string operator()(const PointsOutline&) const { return sided(); }
    std::string operator()(const ReadingsOutline&) const { return sided(); }
    [[nodiscard]] std::string sided() const {
        const char* line = project.outline.line == OutlineLine::middle ? "middle line" : line_words(project.outline.line);
        return fmt::format("{}, {} sizes",
                           project.outline.open ? fmt::format("open chain of {} boards", count_word(sides))
                                                : fmt::format("{}-sided ring", count_word(sides)),
                           line);
    }
};

std::string course_words(const Project& project) {
    const double height = project.height_mm(0);
    const bool one_height = std::all_of(project.boards.begin(), project.boards.end(), [&](const BoardAsked& b) {
        return std::abs((project.lie == Lie::flat ? b.thickness_mm : b.width_mm) - height) < kSame;
    });
    const bool flat = project.lie == Lie::flat;
    if (project.courses == 1)
        return one_height ? fmt::format("{} {}", shown(height, project), flat ? "thick" : "high") : std::string();
    const std::string courses = fmt::format("{} {}", count_word(project.courses), flat ? "layers" : "courses");
    return one_height ? fmt::format("{} of {}", courses, shown(height, project)) : courses;
}

std::string margin_words(const Project& project) {
    const std::vector<double>& margins = project.outline.margin_mm;
    if (margins.empty() || std::all_of(margins.begin(), margins.end(), [](double m) { return m == 0.0; })) return "";
    const bool same =
        std::all_of(margins.begin(), margins.end(), [&](double m) { return std::abs(m - margins.front()) < kSame; });
    return same ? fmt::format("margin {}", as_given(margins.front(), project)) : std::string("margins by board");
}

std::string angle_sum_words(const Outline& outline) {
    const std::vector<double>& angles = outline.interior_deg;
    const std::size_t n = angles.size();
    const double expected = 180.0 * (static_cast<double>(n) - 2.0);
    const std::string sum = show_angle(expected, 0);
    const std::string must = fmt::format("as {} corners must", count_word(n));
    const bool equal = std::all_of(angles.begin(), angles.end(), [&](double a) { return std::abs(a - angles.front()) < kSame; });
    for (const int decimals : {1, 2}) {
        std::vector<std::string> parts;
        for (const double a : angles) parts.push_back(show_angle(a, decimals));
        const bool exact = adds_up(parts, sum);
        if (!exact && decimals == 1) continue;
        const char* rounded = exact ? "" : " (rounded)";
        if (equal)
            return fmt::format("{} of {}{} add up to {}, {}.", capital(fmt::format("{} corners", count_word(n))), parts.front(),
                               rounded, sum, must);
        if (n > kMostAnglesListed) return fmt::format("The {} corners add up to {}, {}.", n, sum, must);
        return fmt::format("{} = {}{}, {}.", joined(parts, " + "), sum, rounded, must);
    }
    return "";
}

std::string miss_words(const Outline& outline, const Project& project) {
    if (outline.readings.empty() || outline.misclosure.length_mm < 1e-6) return "";
    return fmt::format(" As written the sides miss by {}; I spread it.", shown_misfit(outline.misclosure.length_mm, project));
}

// What the maker left open with ?.
std::string open_words(const Outline& outline, const Project& project) {
    std::vector<std::string> parts;
    for (const ReadingUsed& reading : outline.readings) {
        if (reading.given) continue;
        const bool is_angle = reading.kind == Reading::Kind::angle;
        parts.push_back(fmt::format("{} {}", clean_text(reading.text.substr(0, reading.text.find_first_of(" ?")), 7),
                                    is_angle ? show_angle(reading.used, 1) : shown(reading.used, project)));
    }
    return parts.empty() ? std::string() : fmt::format(" You left open: {}.", and_list(parts));
}

std::string inward_words(const Outline& outline) {
    std::vector<std::string> letters;
    for (std::size_t c = 0; c < outline.corners_mm.size(); ++c) {
        if (outline.is_joint(c) && outline.interior_deg[c] > 180.0) letters.push_back(corner_letter(c));
    }
    if (letters.empty()) return "";
    if (letters.size() > kMostEndsNamed) return fmt::format(" {} IN-CORNERS.", letters.size());
    return fmt::format(" IN-CORNER{} {}.", letters.size() == 1 ? "" : "S", and_list(letters));
}

std::string end_names(const Plan& plan, const std::vector<CutRef>& cuts) {
    std::vector<std::string> names;
    for (const CutRef& cut : cuts) {
        if (names.size() == kMostEndsNamed && cuts.size() > kMostEndsNamed + 1) {
            names.push_back(fmt::format("{} more ends", cuts.size() - kMostEndsNamed));
            break;
        }
        names.push_back(board_number(cut.board) + corner_letter(plan.frame->boards[cut.board].ends[cut.end].corner));
    }
    return and_list(names);
}

// How one setting is best sawn: the first way within the saw, lying before standing.
std::optional<SawWay> best_way(const Plan& plan, const SettingGroup& group) {
    if (group.cuts.empty()) return std::nullopt;
    const CutRef& cut = group.cuts.front();
    for (const SawWay& way : plan.shown[cut.board].ends[cut.end].ways) {
        if (way.within_saw) return way;
    }
    return std::nullopt;
}

std::string settings_list(const std::vector<std::string>& settings) {
    if (settings.size() <= kMostSettingsListed) return and_list(settings);
    return fmt::format("{} settings from {} to {}", count_word(settings.size()), settings.front(), settings.back());
}

double limit_of(const Tools& tools, SawWay::Motion motion) {
    return motion == SawWay::Motion::tilt ? tools.tilt_limit_deg : tools.swing_limit_deg;
}

std::string section_name(const Plan& plan, const SectionTotal& section) {
    std::string name = shown_section(section.width_mm, section.thickness_mm, plan.project);
    if (section.stock && !plan.project.stock[*section.stock].nominal.empty()) {
        name = fmt::format("{}, really {}", clean_text(plan.project.stock[*section.stock].nominal, 16), name);
    }
    return name;
}

std::vector<Vec2> as_seen(const Plan& plan, const std::vector<Vec2>& points) {
    const PlanView view(plan);
    std::vector<Vec2> seen;
    for (const Vec2 p : points) seen.push_back(view(p));
    return seen;
}

bool same_widths(const Plan& plan) {
    const std::vector<Board>& boards = plan.frame->boards;
    return std::all_of(boards.begin(), boards.end(), [&](const Board& b) {
        return b.taper_mm == 0.0 && std::abs(b.width_mm - boards.front().width_mm) < kSame && std::abs(b.offset_mm - boards.front().offset_mm) < kSame;
    });
}

std::string size_line(const Plan& plan, bool outside) {
    const Project& project = plan.project;
    const Totals& totals = *plan.totals;
    const std::optional<double>& flats = outside ? totals.over_flats_outside_mm : totals.over_flats_inside_mm;
    const auto* regular = std::get_if<RegularOutline>(&project.outline.form);
    if (regular != nullptr && regular->corners > 4 && flats && same_widths(plan) && !plan.assembly->diagonals.empty()) {
        const Diagonal& points = plan.assembly->diagonals.front();
        return fmt::format("{} over flats, {} over points", shown(*flats, project),
                           shown(outside ? points.outside_mm : points.inside_mm, project));
    }
    const Vec2 box = outside ? totals.outside_box_mm : totals.inside_box_mm;
    const bool plain = plan.outline->closed && plan.outline->boards() == 4 &&
                       std::all_of(plan.outline->interior_deg.begin(), plan.outline->interior_deg.end(),
                                   [](double a) { return std::abs(a - 90.0) < kSame; });
    return fmt::format("{} x {}{}", shown(box.x, project), shown(box.y, project), plain ? "" : " over all");
}

std::string range_words(Range range, double factor, const char* unit) {
    const auto round = [](double v) {
        return v >= 100.0 ? std::round(v / 5.0) * 5.0 : v >= 10.0 ? std::round(v) : std::round(v * 10.0) / 10.0;
    };
    const std::string low = show_number(round(range.low * factor), 1), high = show_number(round(range.high * factor), 1);
    if (high == "0") return fmt::format("under 0.1 {}", unit);
    return low == "0" ? fmt::format("up to {} {}", high, unit) : fmt::format("{} to {} {}", low, high, unit);
}

std::string room_words(double litres, bool inches) {
    constexpr double kLitresPerCubicFoot = 28.316847;
    constexpr double kManyLitres = 10'000.0;
    const auto some = [](double v, int decimals, const char* unit) {
        const std::string shown = show_number(v, decimals);
        return shown == "0" ? fmt::format("under 0.1 {}", unit) : fmt::format("{} {}", shown, unit);
    };
    if (inches) return some(litres / kLitresPerCubicFoot, 1, "cubic feet");
    if (litres >= kManyLitres) return some(litres / 1000.0, 1, "cubic metres");
    return some(litres, litres < 10.0 ? 1 : 0, "litres");
}

}  // namespace

Lines size_lines(const Plan& plan, Words words) {
    constexpr double kPoundsPerKg = 2.2046226;  // exact to the digits shown
    constexpr double kManyKg = 10'000.0;
    const Totals& totals = *plan.totals;
    const bool inches = in_inches(plan.project);
    Lines lines{fmt::format("inside:  {}", size_line(plan, false)), fmt::format("outside: {}", size_line(plan, true))};
    if (totals.volume_l) {
        lines.push_back(fmt::format("{} high, holds {}", shown(totals.height_mm, plan.project), room_words(*totals.volume_l, inches)));
    } else if (plan.project.lie == Lie::on_edge) {
        lines.push_back(fmt::format("{} high", shown(totals.height_mm, plan.project)));
    }
    const auto weight = [&](Range kg) {
        if (inches) return range_words(kg, kPoundsPerKg, "lb");
        return kg.high < kManyKg ? range_words(kg, 1.0, "kg") : range_words(kg, 1e-3, "tonnes");
    };
    const auto about = [&](Range kg) { return weight(kg).starts_with("u") ? weight(kg) : "about " + weight(kg); };
    if (totals.wet_soil_kg) {
        lines.push_back(fmt::format("timber {}, wet soil {}", about(totals.timber_kg), weight(*totals.wet_soil_kg)));
        if (totals.wet_soil_kg->high > kHeavySoilKg) lines.emplace_back("on a balcony or roof ask an engineer");
    } else if (words == Words::all) {
        lines.push_back(fmt::format("timber {}", about(totals.timber_kg)));
    }
    return lines;
}

std::string shape_in_words(const Plan& plan) {
    std::string words = std::visit(ShapeWords{plan.project, plan.outline->boards()}, plan.project.outline.form);
    const std::string copies = plan.project.copies > 1 ? fmt::format("{} of these", count_word(plan.project.copies)) : "";
    for (const std::string& part : {margin_words(plan.project), course_words(plan.project), copies}) {
        if (!part.empty()) words = fmt::format("{}, {}", words, part);
    }
    return words;
}

Lines title_lines(const Plan& plan) {
    const std::string title = headline(clean_text(plan.project.title, kMostTitle));
    const std::string unit = unit_words(plan.project.unit);
    const std::string shape = shape_in_words(plan);
    const std::string whole = title.empty() ? capital(shape) : fmt::format("{} - {}", title, shape);
    if (columns_of(whole) + 2 + unit.size() <= kTitleColumns) return {padded(whole, kTitleColumns - unit.size()) + unit};
    Lines lines{padded(title, kTitleColumns - unit.size()) + unit};
    append_lines(lines, wrapped(sentence(shape), kTextColumns));
    return lines;
}

Lines closing_lines(const Plan& plan) {
    const Outline& outline = *plan.outline;
    if (outline.fitted) return labelled("FITTED.", fitted_words(plan) + inward_words(outline), kVerdictColumns);
    if (outline.closed) {
        return labelled("CLOSES.", angle_sum_words(outline) + miss_words(outline, plan.project) + inward_words(outline) +
                                        open_words(outline, plan.project),
                        kVerdictColumns);
    }
    const std::size_t last = outline.corners_mm.size() - 1;
    std::string text = fmt::format("Nothing has to close: {} and {} are free ends", corner_letter(0), corner_letter(last));
    for (const Diagonal& span : plan.assembly->diagonals) {
        if (span.first != 0 || span.second != last) continue;
        text += fmt::format(", {} apart inside and {} outside", shown(span.inside_mm, plan.project),
                            shown(span.outside_mm, plan.project));
    }
    return labelled("OPEN CHAIN.", fmt::format("{}.{}", text, inward_words(outline)), kVerdictColumns);
}

Lines sawing_lines(const Plan& plan) {
    const Project& project = plan.project;
    const Tools& tools = project.tools;
    std::vector<std::string> lying, standing, near, beyond;
    for (const SettingGroup& group : plan.cut_list->settings) {
        if (group.cuts.empty() || shown_away_deg(group.setting_deg, project) == 0.0) continue;
        const std::string setting = show_setting(group.setting_deg, project);
        const std::optional<SawWay> way = group.within_saw ? best_way(plan, group) : std::nullopt;
        if (!way) {
            beyond.push_back(fmt::format("{} at {}", setting, end_names(plan, group.cuts)));
            continue;
        }
        (way->lies_flat ? lying : standing).push_back(setting);
        const double limit = limit_of(tools, way->motion);
        if (way->setting_deg > limit - kNearStopDeg) {
            const bool every = group.cuts.size() == 2 * plan.shown.size();
            const bool one = group.cuts.size() == 1 || every;
            const std::string stop = show_angle(on_scale_deg(limit, tools));
            near.push_back(fmt::format("{} {} {} your saw's stop, {}",
                                       every ? std::string("every end") : end_names(plan, group.cuts), one ? "is" : "are",
                                       setting == stop ? "right at" : "close to", stop));
        }
    }
    const bool on_edge = project.lie == Lie::on_edge;
    std::vector<std::string> parts;
    if (!lying.empty()) parts.push_back(fmt::format("{} {}", on_edge ? "tilt to" : "swing to", settings_list(lying)));
    if (!standing.empty())
        parts.push_back(
            fmt::format("board standing at the fence, {} {}", on_edge ? "swing to" : "tilt to", settings_list(standing)));
    std::string can = and_list(parts);
    for (const std::string& part : near) can = fmt::format("{}; {}", can, part);
    if (beyond.empty()) return labelled("CAN BE SAWN.", can.empty() ? "Every cut is square." : sentence(can), kVerdictColumns);
    const SawWay::Motion motion = on_edge ? SawWay::Motion::tilt : SawWay::Motion::swing;
    if (beyond.size() > kMostSettingsBeyond) {  // a page names the mildest; the table marks every one
        const std::string more = fmt::format("{} more", beyond.size() - kMostSettingsBeyond);
        beyond.resize(kMostSettingsBeyond);
        beyond.push_back(more);
    }
    std::string cannot = fmt::format("Beyond it: {}; your saw {} to {}.", and_list(beyond), on_edge ? "tilts" : "swings",
                                     show_angle(on_scale_deg(limit_of(tools, motion), tools)));
    if (!can.empty()) cannot = fmt::format("{} The others: {}.", cannot, can);
    return labelled("SAW STOPS.", cannot, kVerdictColumns);
}

Lines buying_lines(const Plan& plan) {
    if (plan.buying && plan.buying->has_offers()) {
        return labelled("BUY.", bought_words(*plan.buying, {&plan.project}), kVerdictColumns);
    }
    const std::vector<SectionTotal>& sections = plan.cut_list->sections;
    std::vector<std::string> wants;
    bool tests = false;
    for (const SectionTotal& section : sections) {
        tests = tests || section.test_pieces > 0;
        if (wants.size() == kMostSectionsTold && sections.size() > kMostSectionsTold + 1) {
            wants.push_back(fmt::format("{} more sections (--more)", sections.size() - kMostSectionsTold));
            break;
        }
        if (wants.size() > kMostSectionsTold) continue;
        const std::string longest = shown(stepped_up_mm(section.longest_mm, plan.project), plan.project);
        const std::string pieces = wants.empty() ? counted(section.pieces, "piece", "pieces") : std::to_string(section.pieces);
        wants.push_back(fmt::format("{} of {} ({} up to {})", shown_run(section.rough_mm, plan.project.unit),
                                    section_name(plan, section), pieces, longest));
    }
    return labelled("BUY.",
                    fmt::format("Ask the yard for {}: {} in, board ends extra; no prices yet.", and_list(wants),
                                tests ? "saw cuts and tests" : "saw cuts"),
                    kVerdictColumns);
}

Lines picture_and_sizes(const Plan& plan, std::size_t rows, Words words) {
    const Lines beside = size_lines(plan, words);
    const std::string seen = plan.project.outline.seen_from_room ? "  seen from the room" : "  seen from above";
    const Lines picture = rows == 0 ? Lines{}
                                    : picture_lines(as_seen(plan, plan.outline->corners_mm), plan.outline->closed,
                                                    plan.project.outline.letters_clockwise, rows, kPictureColumns);
    if (picture.empty()) {
        std::string text;
        for (const std::string& line : beside) text = fmt::format("{}{}{}", text, text.empty() ? "" : ";  ", line);
        return labelled("SIZES", text + fmt::format(".  Picture: plan.svg,{}.", seen.substr(1)));
    }
    std::size_t width = 0;
    for (const std::string& line : picture) width = std::max(width, columns_of(line));
    const std::size_t room = kPageColumns - kSeenColumns - width - kPictureGap;
    Lines broken;
    for (const std::string& line : beside) append_lines(broken, wrapped(line, room));
    Lines lines;
    const std::size_t count = std::max(picture.size(), broken.size());
    for (std::size_t i = 0; i < count; ++i) {
        const bool tells_letters = i == 1 && plan.project.outline.letters_clockwise;
        std::string line = padded(i == 0 ? seen : tells_letters ? "  letters clockwise" : "", kSeenColumns);
        line += padded(i < picture.size() ? picture[i] : "", width + kPictureGap);
        if (i < broken.size()) line += broken[i];
        line.erase(line.find_last_not_of(' ') + 1);
        lines.push_back(line);
    }
    return lines;
}

}  // namespace boardring
