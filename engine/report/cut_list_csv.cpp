#include "report/cut_list_csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>
#include <vector>

#include "base/angle_text.hpp"
#include "base/ensure.hpp"
#include "base/names.hpp"
#include "report/csv.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

using Row = std::vector<std::string>;

class CutListText {
public:
    explicit CutListText(const Plan& plan) : plan_(plan) {}

    [[nodiscard]] std::string write() const {
        std::string text;
        add_csv_row(text, head());
        for (std::size_t k = 0; k < plan_.shown.size(); ++k) add_csv_row(text, board(k));
        for (const PieceAsked& piece : plan_.project.pieces) add_csv_row(text, extra(piece));
        return text;
    }

private:
    [[nodiscard]] std::string length(double mm) const {
        const Project& project = plan_.project;
        return show_number(rounded_to_step(mm, project.tools.rule_step_mm) / unit_in_mm(unit()), 6);
    }
    // Feet and inches are no decimal number: jobs in feet are listed in inches.
    [[nodiscard]] Unit unit() const { return plan_.project.unit == Unit::foot ? Unit::inch : plan_.project.unit; }

    [[nodiscard]] Row head() const {
        Row row{"piece", "count", "like", "stock"};
        for (const char* name : {"width", "thickness", "outside", "inside", "long point", "short point", "rough"})
            row.push_back(fmt::format("{} ({})", name, unit_name(unit())));
        for (const char* side : {"left", "right"}) {
            row.push_back(fmt::format("{} corner", side));
            row.push_back(fmt::format("{} cut from square (deg)", side));
            row.push_back(fmt::format("{} longer edge", side));
            row.push_back(fmt::format("{} joint", side));
        }
        return row;
    }

    [[nodiscard]] std::string stock_name(const std::optional<std::size_t>& stock) const {
        return stock ? text_cell(plan_.project.stock[*stock].name) : std::string();
    }

    // The first board of the group this one is cut like, and how it is turned to be the same.
    [[nodiscard]] std::string like(std::size_t k) const {
        for (const PieceGroup& group : plan_.cut_list->groups) {
            for (const GroupMember& member : group.members) {
                if (member.board != k) continue;
                const std::string first = board_number(group.members.front().board);
                switch (member.turning) {
                    case Turning::as_first:
                        return first;
                    case Turning::top_to_bottom:
                        return first + " turned upside down";
                    case Turning::edge_for_edge:
                        return first + " turned edge for edge";
                    case Turning::end_for_end:
                        return first + " turned end for end";
                }
            }
        }
        return board_number(k);
    }

    [[nodiscard]] std::string joint_words(const BoardEnd& end) const {
        if (!end.mate) return "free end";
        const std::vector<Joint>& joints = plan_.frame->joints;
        const auto joint = std::find_if(joints.begin(), joints.end(), [&](const Joint& j) { return j.corner == end.corner; });
        ENSURE(joint != joints.end());
        const std::string mate = board_number(*end.mate);
        switch (joint->kind) {
            case JointKind::mitre:
                return "mitre with " + mate;
            case JointKind::butt:
                return (end.runs_through ? "runs through past " : "butts against ") + mate;
            case JointKind::half_lap:
                return "half-lap with " + mate;
        }
        return "";
    }

    void add_cut(Row& row, double saw_deg) const {
        const std::string from_square = show_angle(std::abs(saw_deg), 1);
        row.push_back(from_square);
        row.emplace_back(from_square == "0" ? "neither" : saw_deg > 0.0 ? "outside" : "inside");
    }

    [[nodiscard]] Row board(std::size_t k) const {
        const BoardAsked& asked = plan_.project.boards[k];
        const ShownBoard& shown = plan_.shown[k];
        Row row{board_number(k),
                std::to_string(plan_.project.of_each_board()),
                like(k),
                stock_name(asked.stock),
                length(asked.width_mm),
                length(asked.thickness_mm)};
        for (const double mm : {shown.outside_length_mm, shown.inside_length_mm, shown.long_point_mm, shown.short_point_mm,
                                stepped_up_mm(shown.rough_length_mm, plan_.project)})
            row.push_back(length(mm));
        for (const bool left : {true, false}) {
            const BoardEnd& end = plan_.frame->boards[k].ends[left ? shown.left_end : 1 - shown.left_end];
            row.push_back(corner_letter(end.corner));
            add_cut(row, end.saw_deg);
            row.push_back(joint_words(end));
        }
        return row;
    }

    [[nodiscard]] Row extra(const PieceAsked& piece) const {
        const Stock& stock = plan_.project.stock[piece.stock];
        Row row{text_cell(piece.name),
                std::to_string(plan_.project.of_piece(piece)),
                "",
                text_cell(stock.name),
                length(stock.width_mm),
                length(stock.thickness_mm),
                "",
                "",
                length(piece.length_mm),
                "",
                ""};
        for (const PieceGroup& group : plan_.cut_list->groups) {
            if (group.extra && &plan_.project.pieces[*group.extra] == &piece)
                row.back() = length(stepped_up_mm(group.rough_length_mm, plan_.project));
        }
        for (const double saw : {piece.left_saw_deg, piece.right_saw_deg}) {
            row.emplace_back();
            add_cut(row, saw);
            row.emplace_back();
        }
        return row;
    }

    const Plan& plan_;
};

}  // namespace

std::string cut_list_csv(const Plan& plan) {
    return plan.complete() ? CutListText(plan).write() : std::string();
}

}  // namespace boardring
