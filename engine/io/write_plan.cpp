#include "io/write_plan.hpp"

#include <functional>
#include <array>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/ensure.hpp"
#include "base/names.hpp"

namespace boardring {
namespace {

using Json = nlohmann::ordered_json;

Json number(double value) {
    ENSURE(std::isfinite(value));
    return value == 0.0 ? 0.0 : value;  // no "-0.0"
}

Json number(const std::optional<double>& value) { return value ? number(*value) : Json(nullptr); }

Json point(Vec2 p) { return Json::array({number(p.x), number(p.y)}); }

Json points(const std::vector<Vec2>& list, bool clockwise) {
    Json j = Json::array();
    for (const Vec2 p : list) j.push_back(point({p.x, clockwise ? -p.y : p.y}));
    return j;
}

Json range(const Range& range) {
    Json j;
    j["low"] = number(range.low);
    j["high"] = number(range.high);
    return j;
}

Json board_name(std::size_t board) { return board + 1; }

Json board_name(const std::optional<std::size_t>& board) { return board ? board_name(*board) : Json(nullptr); }

std::string end_name(const Frame& frame, std::size_t board, std::size_t end) {
    return board_number(board) + corner_letter(frame.boards[board].ends[end].corner);
}

Json stock_name(const Project& project, const std::optional<std::size_t>& stock) {
    return stock ? Json(project.stock[*stock].name) : Json(nullptr);
}

std::string_view name_of(Severity severity) {
    switch (severity) {
        case Severity::error: return "error";
        case Severity::warning: return "warning";
        case Severity::caution: return "caution";
        case Severity::note: return "note";
    }
    ENSURE(false);
    return "";
}

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
    }
    ENSURE(false);
    return "";
}

std::string_view name_of(JointKind kind) {
    switch (kind) {
        case JointKind::mitre: return "mitre";
        case JointKind::butt: return "butt";
        case JointKind::half_lap: return "half-lap";
    }
    ENSURE(false);
    return "";
}

std::string_view name_of(Turning turning) {
    switch (turning) {
        case Turning::as_first: return "as-first";
        case Turning::top_to_bottom: return "top-to-bottom";
        case Turning::edge_for_edge: return "edge-for-edge";
        case Turning::end_for_end: return "end-for-end";
    }
    ENSURE(false);
    return "";
}

std::string_view longer_side(double saw_deg) {
    if (std::abs(saw_deg) <= kSquareCutDeg) return "neither";
    return saw_deg > 0.0 ? "outside" : "inside";
}

Json findings_of(const Findings& findings) {
    Json list = Json::array();
    for (const Finding& finding : findings) {
        Json j;
        j["severity"] = name_of(finding.severity);
        j["code"] = finding.code;
        j["pointer"] = finding.pointer;
        j["message"] = finding.message;
        j["fix"] = finding.fix;
        list.push_back(std::move(j));
    }
    return list;
}

Json assumed_of(const std::vector<Assumption>& assumed) {
    Json list = Json::array();
    for (const Assumption& assumption : assumed) {
        Json j;
        j["pointer"] = assumption.pointer;
        j["value"] = assumption.value;
        list.push_back(std::move(j));
    }
    return list;
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
        j["given"] = number(reading.given);
        j["used"] = number(reading.used);
        list.push_back(std::move(j));
    }
    return list;
}

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
    j["inside_mm"] = plan.frame ? points(plan.frame->inside_mm, outline.letters_clockwise) : Json(nullptr);
    j["outside_mm"] = plan.frame ? points(plan.frame->outside_mm, outline.letters_clockwise) : Json(nullptr);
    return j;
}

Json ways_of(const std::vector<SawWay>& ways) {
    Json list = Json::array();
    for (const SawWay& way : ways) {
        Json j;
        j["motion"] = way.motion == SawWay::Motion::swing ? "swing" : "tilt";
        j["lies_flat"] = way.lies_flat;
        j["setting_deg"] = number(way.setting_deg);
        j["within_saw"] = way.within_saw;
        list.push_back(std::move(j));
    }
    return list;
}

Json lap_of(const BoardEnd& end, const ShownEnd& shown) {
    if (!end.lap) return nullptr;
    Json j;
    j["depth_mm"] = number(end.lap->depth_mm);
    j["keeps"] = end.lap->keeps_upper ? "upper" : "lower";
    j["shoulder_inside_mm"] = number(shown.shoulder_inside_mm);
    j["shoulder_outside_mm"] = number(shown.shoulder_outside_mm);
    return j;
}

Json end_of(const BoardEnd& end, const ShownEnd& shown) {
    Json j;
    j["corner"] = corner_letter(end.corner);
    j["inside_mark_mm"] = number(shown.inside_mark_mm);
    j["outside_mark_mm"] = number(shown.outside_mark_mm);
    j["run_mm"] = number(end.run_mm);
    j["saw_deg"] = number(end.saw_deg);
    j["edge_deg"] = number(shown.edge_deg);
    j["longer"] = longer_side(end.saw_deg);
    j["face_mm"] = number(end.face_mm);
    j["bevel"]["base_mm"] = number(shown.bevel_base_mm);
    j["bevel"]["rise_mm"] = number(shown.bevel_rise_mm);
    j["ways"] = ways_of(shown.ways);
    j["square_line"]["at_mm"] = number(shown.square_at_mm);
    j["square_line"]["first_mm"] = number(end.square_first_mm);
    j["square_line"]["second_mm"] = number(end.square_second_mm);
    j["lap"] = lap_of(end, shown);
    j["runs_through"] = end.runs_through;
    j["mate"] = end.mate ? Json(board_number(*end.mate) + corner_letter(end.corner)) : Json(nullptr);
    return j;
}

Json boards_of(const Plan& plan) {
    if (!plan.frame || plan.shown.empty()) return nullptr;
    const Frame& frame = *plan.frame;
    ENSURE(plan.shown.size() == frame.boards.size());
    Json list = Json::array();
    for (std::size_t k = 0; k < frame.boards.size(); ++k) {
        const Board& board = frame.boards[k];
        const ShownBoard& shown = plan.shown[k];
        const std::array<Vec2, 4> quadrilateral = board.plan_mm();
        Json j;
        j["number"] = board_name(k);
        j["stock"] = stock_name(plan.project, plan.project.boards[k].stock);
        j["width_in_joint_mm"] = number(board.width_mm);
        j["height_mm"] = number(board.height_mm);
        j["inside_length_mm"] = number(shown.inside_length_mm);
        j["outside_length_mm"] = number(shown.outside_length_mm);
        j["long_point_mm"] = number(shown.long_point_mm);
        j["short_point_mm"] = number(shown.short_point_mm);
        j["rough_length_mm"] = number(shown.rough_length_mm);
        j["left_end"] = corner_letter(board.ends[shown.left_end].corner);
        j["plan_mm"] = points({quadrilateral.begin(), quadrilateral.end()}, plan.outline->letters_clockwise);
        j["ends"] = Json::array({end_of(board.ends[0], shown.ends[0]), end_of(board.ends[1], shown.ends[1])});
        list.push_back(std::move(j));
    }
    return list;
}

Json joints_of(const Plan& plan) {
    if (!plan.frame) return nullptr;
    const bool clockwise = plan.outline->letters_clockwise;
    Json list = Json::array();
    for (const Joint& joint : plan.frame->joints) {
        Json j;
        j["corner"] = corner_letter(joint.corner);
        j["kind"] = name_of(joint.kind);
        j["boards"] = Json::array({board_name(joint.before), board_name(joint.after)});
        j["through"] = board_name(joint.through);
        j["interior_deg"] = number(joint.interior_deg);
        j["inner_mm"] = points({joint.inner_mm}, clockwise).front();
        j["outer_mm"] = points({joint.outer_mm}, clockwise).front();
        j["face_mm"] = number(joint.face_mm);
        list.push_back(std::move(j));
    }
    return list;
}

// Blocks that hold a corner in a band: the corner itself, at an inward corner the one the block sees from the other side.
Json corner_blocks_of(const Frame& frame) {
    Json list = Json::array();
    for (const Joint& joint : frame.joints) {
        Json j;
        j["corner"] = corner_letter(joint.corner);
        j["deg"] = number(180.0 - std::abs(180.0 - joint.interior_deg));
        list.push_back(std::move(j));
    }
    return list;
}

Json assembly_of(const Plan& plan) {
    if (!plan.assembly || !plan.frame) return nullptr;
    Json j;
    j["diagonals"] = Json::array();
    for (const Diagonal& diagonal : plan.assembly->diagonals) {
        Json d;
        d["from"] = corner_letter(diagonal.first);
        d["to"] = corner_letter(diagonal.second);
        d["inside_mm"] = number(diagonal.inside_mm);
        d["outside_mm"] = number(diagonal.outside_mm);
        j["diagonals"].push_back(std::move(d));
    }
    j["halves"] = nullptr;
    if (plan.assembly->halves) {
        Json h;
        h["from"] = corner_letter(plan.assembly->halves->first_corner);
        h["to"] = corner_letter(plan.assembly->halves->second_corner);
        h["inside_mm"] = number(plan.assembly->halves->inside_mm);
        h["outside_mm"] = number(plan.assembly->halves->outside_mm);
        j["halves"] = std::move(h);
    }
    j["fit_last"] = board_name(plan.assembly->fit_last);
    j["leave_long_mm"] = number(plan.assembly->leave_long_mm);
    j["corner_block_deg"] = corner_blocks_of(*plan.frame);
    return j;
}

// Section and slopes of a group, as its first member lies.
struct GroupPiece {
    std::optional<std::size_t> stock;
    double width_mm = 0.0, thickness_mm = 0.0;
    double left_saw_deg = 0.0, right_saw_deg = 0.0;
};

GroupPiece piece_of(const Plan& plan, const PieceGroup& group) {
    const Project& project = plan.project;
    if (group.extra) {
        const PieceAsked& extra = project.pieces[*group.extra];
        const Stock& stock = project.stock[extra.stock];
        return {extra.stock, stock.width_mm, stock.thickness_mm, extra.left_saw_deg, extra.right_saw_deg};
    }
    const std::size_t k = group.members.front().board;
    const std::size_t left = plan.outline->letters_clockwise ? 1 : 0;
    const BoardAsked& asked = project.boards[k];
    const Board& board = plan.frame->boards[k];
    return {asked.stock, asked.width_mm, asked.thickness_mm, board.ends[left].saw_deg, board.ends[1 - left].saw_deg};
}

Json cut_list_of(const Plan& plan) {
    if (!plan.cut_list || !plan.frame) return nullptr;
    Json list = Json::array();
    for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) {
        const PieceGroup& group = plan.cut_list->groups[g];
        const GroupPiece piece = piece_of(plan, group);
        Json j;
        j["group"] = g + 1;
        j["piece"] = group.extra ? Json(plan.project.pieces[*group.extra].name) : Json(nullptr);
        j["boards"] = Json::array();
        for (const GroupMember& member : group.members) {
            Json m;
            m["number"] = board_name(member.board);
            m["turned"] = name_of(member.turning);
            j["boards"].push_back(std::move(m));
        }
        j["count"] = group.count;
        j["mirror_of"] = board_name(group.mirror_of);  // groups count from 1 like boards
        j["stock"] = stock_name(plan.project, piece.stock);
        j["width_mm"] = number(piece.width_mm);
        j["thickness_mm"] = number(piece.thickness_mm);
        j["long_point_mm"] = number(group.long_point_mm);
        j["rough_length_mm"] = number(group.rough_length_mm);
        j["left_saw_deg"] = number(piece.left_saw_deg);
        j["right_saw_deg"] = number(piece.right_saw_deg);
        list.push_back(std::move(j));
    }
    return list;
}

Json settings_of(const Plan& plan) {
    if (!plan.cut_list || !plan.frame) return nullptr;
    Json list = Json::array();
    for (const SettingGroup& setting : plan.cut_list->settings) {
        Json j;
        j["setting_deg"] = number(setting.setting_deg);
        j["shown_deg"] = number(setting.shown_deg);
        j["scale_deg"] = number(std::abs(plan.project.tools.scale_at_square_deg - setting.shown_deg));
        j["ends"] = Json::array();
        for (const CutRef& cut : setting.cuts) j["ends"].push_back(end_name(*plan.frame, cut.board, cut.end));
        j["pieces"] = Json::array();
        for (const PieceCutRef& cut : setting.piece_cuts) {
            Json p;
            p["piece"] = plan.project.pieces[cut.piece].name;
            p["end"] = cut.end == 0 ? "left" : "right";
            j["pieces"].push_back(std::move(p));
        }
        j["count"] = setting.count;
        j["left"] = setting.left;
        j["right"] = setting.right;
        j["test_pair_deg"] = number(setting.test_pair_deg);
        j["test_corner"] = setting.test_pair_deg ? Json(corner_letter(setting.test_corner)) : Json(nullptr);
        j["within_saw"] = setting.within_saw;
        list.push_back(std::move(j));
    }
    return list;
}

Json sections_of(const Plan& plan) {
    if (!plan.cut_list) return nullptr;
    Json list = Json::array();
    for (const SectionTotal& section : plan.cut_list->sections) {
        Json j;
        j["stock"] = stock_name(plan.project, section.stock);
        j["width_mm"] = number(section.width_mm);
        j["thickness_mm"] = number(section.thickness_mm);
        j["pieces"] = section.pieces;
        j["finished_mm"] = number(section.finished_mm);
        j["rough_mm"] = number(section.rough_mm);
        j["test_pieces"] = section.test_pieces;
        j["test_mm"] = number(section.test_mm);
        j["longest_mm"] = number(section.longest_mm);
        list.push_back(std::move(j));
    }
    return list;
}

const char* outcome_word(BuyingOutcome outcome) {
    switch (outcome) {
        case BuyingOutcome::cheapest: return "cheapest";
        case BuyingOutcome::bounded: return "bounded";
        case BuyingOutcome::too_long: return "piece too long";
        case BuyingOutcome::too_few: return "too few boards";
        case BuyingOutcome::no_offers: return "no lengths given";
    }
    return "";
}

const char* what_word(BoughtPiece::What what) {
    switch (what) {
        case BoughtPiece::What::board: return "board";
        case BoughtPiece::What::extra: return "extra";
        case BoughtPiece::What::spare: return "spare";
        case BoughtPiece::What::test: return "test";
    }
    return "";
}

// Pieces of one bought board, in the order of sawing.
Json bar_pieces_of(const SectionPurchase& purchase, const CutBar& bar, const std::vector<std::reference_wrapper<const Project>>& projects) {
    Json list = Json::array();
    const std::vector<BarMarks> marks = bar_marks(purchase.section, bar);
    for (std::size_t i = 0; i < bar.pieces.size(); ++i) {
        const BoughtPiece& name = purchase.names[bar.pieces[i].kind];
        Json boards = Json::array();
        for (const std::size_t board : name.boards) boards.push_back(board + 1);
        Json j;
        j["what"] = what_word(name.what);
        j["frame"] = name.frame + 1;
        j["boards"] = std::move(boards);
        j["extra"] = name.what == BoughtPiece::What::extra ? Json(projects[name.frame].get().pieces[name.extra].name) : Json(nullptr);
        j["turned"] = name_of(bar.pieces[i].turning);
        j["left_far_mm"] = number(marks[i].left_upper_mm);
        j["left_near_mm"] = number(marks[i].left_lower_mm);
        j["right_far_mm"] = number(marks[i].right_upper_mm);
        j["right_near_mm"] = number(marks[i].right_lower_mm);
        list.push_back(std::move(j));
    }
    return list;
}

Json buying_of(const Buying& buying, const std::vector<std::reference_wrapper<const Project>>& projects) {
    Json sections = Json::array();
    for (const SectionPurchase& purchase : buying.sections) {
        const Stock& stock = projects[purchase.frame].get().stock[purchase.stock];
        const SectionBuy& buy = purchase.buy;
        const bool planned = buy.outcome == BuyingOutcome::cheapest || buy.outcome == BuyingOutcome::bounded;
        Json boards = Json::array();
        for (const CutBar& bar : buy.bars) {
            const BarOffer& offer = purchase.section.offers[bar.offer];
            Json j;
            j["length_mm"] = number(offer.length_mm);
            j["price"] = offer.price ? number(*offer.price) : Json(nullptr);
            j["offcut"] = offer.offcut;
            j["used_mm"] = number(bar.used_mm);
            j["left_over_mm"] = number(bar.left_over_mm);
            j["pieces"] = bar_pieces_of(purchase, bar, projects);
            boards.push_back(std::move(j));
        }
        Json j;
        j["stock"] = stock.name;
        j["outcome"] = outcome_word(buy.outcome);
        j["counted_in"] = buy.by_length ? "length_mm" : "price";
        j["total"] = planned ? number(buy.price) : Json(nullptr);
        j["bound"] = planned ? number(buy.bound) : Json(nullptr);
        j["fewest_boards"] = buy.fewest_bars;
        j["as_boxes"] = purchase.as_boxes ? number(*purchase.as_boxes) : Json(nullptr);
        j["boards"] = std::move(boards);
        sections.push_back(std::move(j));
    }
    Json j;
    j["sections"] = std::move(sections);
    return j;
}

Json misfit_of(const JointMisfit& misfit) {
    Json j;
    j["corner"] = corner_letter(misfit.corner);
    j["gap_in_mm"] = number(misfit.gap_in_mm);
    j["gap_out_mm"] = number(misfit.gap_out_mm);
    j["lip_in_mm"] = number(misfit.lip_in_mm);
    j["lip_out_mm"] = number(misfit.lip_out_mm);
    j["angle_left_deg"] = number(misfit.angle_left_deg);
    return j;
}

Json stiff_of(const std::optional<StiffClosure>& stiff) {
    if (!stiff) return nullptr;
    Json j = misfit_of(stiff->last);
    j["one_in"] = stiff->one_in == 0.0 ? Json(nullptr) : number(stiff->one_in);
    return j;
}

Json spread_of(const std::optional<SpreadClosure>& spread) {
    if (!spread) return nullptr;
    Json j;
    j["widest_mm"] = number(spread->widest_mm);
    j["corner"] = corner_letter(spread->corner);
    j["lip_mm"] = number(spread->lip_mm);
    j["settled"] = spread->settled;
    j["joints"] = Json::array();
    for (const JointMisfit& misfit : spread->joints) j["joints"].push_back(misfit_of(misfit));
    return j;
}

Json report_of(const ClosureReport& report) {
    Json j;
    j["stiff"] = stiff_of(report.stiff);
    j["spread"] = spread_of(report.spread);
    j["span"] = nullptr;
    if (report.span_off_mm || report.span_across_mm || report.span_angle_deg) {
        Json span;
        span["off_mm"] = number(report.span_off_mm);
        span["across_mm"] = number(report.span_across_mm);
        span["angle_deg"] = number(report.span_angle_deg);
        j["span"] = std::move(span);
    }
    return j;
}

Json worst_of(const Frame& frame, const std::optional<WorstRounding>& worst) {
    if (!worst) return nullptr;
    Json j;
    j["end"] = end_name(frame, worst->board, worst->end);
    j["what"] = worst->what;
    j["moved"] = number(worst->moved);
    j["stiff_gap_mm"] = number(worst->stiff_gap_mm);
    return j;
}

Json closure_of(const Plan& plan) {
    if (!plan.closure || !plan.frame) return nullptr;
    Json j;
    j["exact"] = report_of(plan.closure->exact);
    j["marked"] = report_of(plan.closure->marked);
    j["set"] = report_of(plan.closure->set);
    j["worst_marked"] = worst_of(*plan.frame, plan.closure->worst_marked);
    j["worst_set"] = worst_of(*plan.frame, plan.closure->worst_set);
    return j;
}

Json totals_of(const Plan& plan) {
    if (!plan.totals || !plan.frame) return nullptr;
    const Totals& totals = *plan.totals;
    Json j;
    j["inside_area_mm2"] = plan.frame->closed ? number(totals.inside_area_mm2) : Json(nullptr);
    j["outside_area_mm2"] = plan.frame->closed ? number(totals.outside_area_mm2) : Json(nullptr);
    j["inside_box_mm"] = point(totals.inside_box_mm);
    j["outside_box_mm"] = point(totals.outside_box_mm);
    j["over_flats_inside_mm"] = number(totals.over_flats_inside_mm);
    j["over_flats_outside_mm"] = number(totals.over_flats_outside_mm);
    j["height_mm"] = number(totals.height_mm);
    j["volume_l"] = number(totals.volume_l);
    j["timber_kg"] = range(totals.timber_kg);
    j["wet_soil_kg"] = totals.wet_soil_kg ? range(*totals.wet_soil_kg) : Json(nullptr);
    return j;
}

// Shortest decimals that read back as the same double, always with a sign that it is one: 900.0, 1e-05.
void add_number(double value, std::string& text) {
    std::array<char, 32> digits{};
    const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), value).ptr;
    const std::string_view written(digits.data(), static_cast<std::size_t>(end - digits.data()));
    text += written;
    if (written.find_first_of(".e") == std::string_view::npos) text += ".0";
}

void add_leaf(const Json& value, std::string& text) {
    if (value.is_number_float()) {
        add_number(value.get<double>(), text);
    } else {
        text += value.dump(-1, ' ', false, Json::error_handler_t::replace);
    }
}

// Keys are our own words: nothing in them wants escaping.
void add_key(const std::string& key, std::string& text) {
    text += '"';
    text += key;
    text += "\": ";
}

// Adds the value on one line; false, with some of it added, as soon as it is found too long for one.
bool add_on_one_line(const Json& value, std::size_t most, std::string& text) {
    if (!value.is_structured()) {
        add_leaf(value, text);
        return text.size() <= most;
    }
    text += value.is_object() ? '{' : '[';
    for (auto item = value.begin(); item != value.end(); ++item) {
        if (item != value.begin()) text += ", ";
        if (value.is_object()) add_key(item.key(), text);
        if (!add_on_one_line(*item, most, text)) return false;
    }
    text += value.is_object() ? '}' : ']';
    return text.size() <= most;
}

// What is longer than a line stands one item below the other; so do lists of things that are looked for, even short ones.
void lay_out(const Json& value, std::size_t depth, std::string& text) {
    if (!value.is_structured()) {
        add_leaf(value, text);
        return;
    }
    constexpr std::size_t kLineLength = 100;
    const bool list_of_things = value.is_array() && !value.empty() && value.front().is_object();
    const std::size_t before = text.size();
    if (!list_of_things && add_on_one_line(value, before + kLineLength, text)) return;
    text.resize(before);
    text += value.is_object() ? "{\n" : "[\n";
    for (auto item = value.begin(); item != value.end(); ++item) {
        if (item != value.begin()) text += ",\n";
        text.append(2 * (depth + 1), ' ');
        if (value.is_object()) add_key(item.key(), text);
        lay_out(*item, depth + 1, text);
    }
    text += '\n';
    text.append(2 * depth, ' ');
    text += value.is_object() ? '}' : ']';
}

}  // namespace

std::string write_plan(const Plan& plan) {
    const Project& project = plan.project;
    ENSURE(!plan.frame || plan.outline);
    Json j;
    j["format"] = "boardring-plan-1";
    j["title"] = project.title;
    j["units"] = unit_name(project.unit);
    j["lie"] = project.lie == Lie::flat ? "flat" : "on edge";
    j["courses"] = project.courses;
    j["findings"] = findings_of(plan.findings);
    j["assumed"] = assumed_of(project.assumed);
    j["outline"] = outline_of(plan);
    j["boards"] = boards_of(plan);
    j["joints"] = joints_of(plan);
    j["assembly"] = assembly_of(plan);
    j["cut_list"] = cut_list_of(plan);
    j["settings"] = settings_of(plan);
    j["sections"] = sections_of(plan);
    j["closure"] = closure_of(plan);
    j["buying"] = plan.buying ? buying_of(*plan.buying, {std::cref(project)}) : nullptr;
    j["totals"] = totals_of(plan);
    std::string text;
    lay_out(j, 0, text);
    text += '\n';
    return text;
}

}  // namespace boardring
