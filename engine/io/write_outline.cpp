#include "io/plan_json.hpp"

#include <cstddef>
#include <nlohmann/json.hpp>
#include <string_view>
#include <vector>

#include "base/ensure.hpp"
#include "base/names.hpp"

namespace boardring {
namespace {

std::string_view name_of(OutlineLine line) {
    switch (line) {
        case OutlineLine::inside: return "inside";
        case OutlineLine::outside: return "outside";
        case OutlineLine::middle: return "middle";
    }
    ENSURE(false);
    return "";
}

std::string_view name_of(Reading::Kind kind) {
    switch (kind) {
        case Reading::Kind::side: return "side";
        case Reading::Kind::diagonal: return "diagonal";
        case Reading::Kind::angle: return "angle";
        case Reading::Kind::fall: return "fall";
        case Reading::Kind::right: return "right";
        case Reading::Kind::width: return "width";
        case Reading::Kind::bow: return "bow";
        case Reading::Kind::sill: return "sill";
    }
    ENSURE(false);
    return "";
}

Json corners_of(const Outline& outline) {
    Json list = Json::array();
    for (std::size_t c = 0; c < outline.corners_mm.size(); ++c) {
        const Vec2 at = outline.corners_mm[c];
        Json j;
        j["letter"] = corner_letter(c);
        j["x_mm"] = number(at.x);
        j["y_mm"] = number(outline.letters_clockwise ? -at.y : at.y);
        j["interior_deg"] = outline.is_joint(c) ? number(outline.interior_deg[c]) : Json(nullptr);
        j["turn_deg"] = outline.is_joint(c) ? number(outline.turn_deg[c]) : Json(nullptr);
        list.push_back(std::move(j));
    }
    return list;
}

Json misclosure_of(const Misclosure& miss, bool clockwise) {
    Json j;
    j["dx_mm"] = number(miss.dx_mm);
    j["dy_mm"] = number(clockwise ? -miss.dy_mm : miss.dy_mm);
    j["length_mm"] = number(miss.length_mm);
    j["direction_deg"] = number(clockwise ? -miss.direction_deg : miss.direction_deg);
    j["one_in"] = miss.one_in == 0.0 ? Json(nullptr) : number(miss.one_in);
    return j;
}

Json readings_of(const std::vector<ReadingUsed>& readings) {
    Json list = Json::array();
    for (const ReadingUsed& reading : readings) {
        Json j;
        j["text"] = reading.text;
        j["kind"] = name_of(reading.kind);
        j["given"] = reading.given ? number(*reading.given) : Json(nullptr);
        j["used"] = number(reading.used);
        list.push_back(std::move(j));
    }
    return list;
}

}  // namespace

Json outline_of(const Plan& plan) {
    if (!plan.outline) return nullptr;
    const Outline& outline = *plan.outline;
    const OutlineAsked& asked = plan.project.outline;
    Json j;
    j["closed"] = outline.closed;
    j["line"] = name_of(asked.line);
    j["letters"] = outline.letters_clockwise ? "clockwise" : "counterclockwise";
    j["seen"] = asked.seen_from_room ? "from the room" : "from above";
    j["corners"] = corners_of(outline);
    j["sides_mm"] = Json::array();
    for (const double side : outline.sides_mm) j["sides_mm"].push_back(number(side));
    const auto if_closed = [&](double value) { return outline.closed ? number(value) : Json(nullptr); };
    j["angle_sum_deg"] = if_closed(outline.misclosure.angle_sum_deg);
    j["angle_sum_expected_deg"] = if_closed(outline.misclosure.angle_sum_expected_deg);
    j["angle_misclosure_deg"] = if_closed(outline.misclosure.angle_deg);
    j["misclosure"] = outline.closed ? misclosure_of(outline.misclosure, outline.letters_clockwise) : Json(nullptr);
    j["readings"] = readings_of(outline.readings);
    j["fit"] = fit_of(outline);
    j["hang"] = hang_of(plan);
    j["pegs"] = pegs_of(plan);
    j["inside_mm"] = plan.frame ? points(plan.frame->inside_mm, outline.letters_clockwise) : Json(nullptr);
    j["outside_mm"] = plan.frame ? points(plan.frame->outside_mm, outline.letters_clockwise) : Json(nullptr);
    return j;
}

}  // namespace boardring
