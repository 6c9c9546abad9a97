// Bytes as choices: a ring or chain of points with boards, joints and margins that a byte-wise change of JSON would hardly reach. The text
// goes the whole way, so that reader, planner and papers see it; the marks are compared with a second construction.
#include <cstdint>
#include <string>

#include <fmt/format.h>

#include "fuzz/driver.hpp"
#include "fuzz/laws.hpp"
#include "io/read_project.hpp"
#include "io/write_plan.hpp"
#include "plan/plan.hpp"
#include "project/joint_kinds.hpp"
#include "report/report_text.hpp"

using namespace boardring;

namespace {

class Choices {
public:
    Choices(const std::uint8_t* data, std::size_t size) : data_(data), size_(size) {}
    unsigned byte() { return at_ < size_ ? data_[at_++] : 0U; }
    unsigned below(unsigned n) { return byte() % n; }
    bool chance() { return byte() % 2 != 0; }
    /// -1 to 1 in 65,536 steps; the ends are reached.
    double span() { return (static_cast<double>(byte() * 256U + byte()) - 32767.5) / 32767.5; }

private:
    const std::uint8_t* data_;
    std::size_t size_;
    std::size_t at_ = 0;
};

std::string project_text(Choices& choose) {
    const std::size_t corners = 3 + choose.below(10);
    const bool open = choose.below(4) == 0;
    const double size = choose.chance() ? 1000.0 : choose.chance() ? 20.0 : 50000.0;
    std::string points;
    double x = 0.0;
    double y = 0.0;
    for (std::size_t c = 0; c < corners; ++c) {
        // Round a circle, pushed out of place by as much as is asked: mostly simple rings, sometimes straight or inward corners.
        const double turn = degrees(6.283185307179586) * static_cast<double>(c) / static_cast<double>(corners);
        const double out = 1.0 + 0.9 * choose.span();
        if (choose.below(16) == 0) {  // nearly straight on
            x += size * 0.1;
            y += size * 1e-7 * choose.span();
        } else {
            x = size * out * cos_deg(turn);
            y = size * out * sin_deg(turn);
        }
        points += fmt::format("{}[{:.6f}, {:.6f}]", c == 0 ? "" : ", ", x, y);
    }
    constexpr const char* kLines[] = {"inside", "outside", "middle"};
    const std::string base = fmt::format("{:.2f}", size * 0.03 * (1.2 + choose.span()));
    std::string boards;
    std::string joints;
    std::string margins;
    for (std::size_t c = 0; c < corners; ++c) {
        if (choose.below(4) == 0) boards += fmt::format(R"(, "{}": {{"thickness": {:.2f}}})", c + 1, size * 0.03 * (1.1 + choose.span()));
        if (choose.below(4) == 0) joints += fmt::format(R"({}"{}": {{"kind": "{}"}})", joints.empty() ? "" : ", ", static_cast<char>('A' + c), kJointWords[choose.below(kJointWords.size())]);
        if (choose.below(8) == 0) margins += fmt::format(R"(, "{}": {:.2f})", c + 1, size * 0.01 * (1.0 + choose.span()));
    }
    std::string text = R"({"format": "boardring-project-1", "title": "t", "units": "mm", "outline": {"line": ")";
    text += kLines[choose.below(3)];
    text += fmt::format(R"(", "points": [{}]{}{}, "margin": {{"all": 0{}}}}}, )", points, open ? R"(, "open": true)" : "",
                        choose.chance() ? R"(, "letters": "clockwise")" : "", margins);
    text += fmt::format(R"("stock": {{"rail": {{"width": {:.2f}, "thickness": {}}}}}, )", size * 0.1, base);
    text += fmt::format(R"("boards": {{"lie": "on edge", "all": {{"stock": "rail"}}{}}}, "joints": {{{}}}}})", boards, joints);
    return text;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    Choices choose(data, size);
    const std::string text = project_text(choose);
    const ProjectRead read = read_project(text);
    if (!read.project) {
        boardring_test::must(!read.findings.empty(), "a file that is refused has a finding");
        return 0;
    }
    const Plan plan = make_plan(*read.project);
    boardring_test::must(plan.complete() || !plan.findings.empty(), "a plan that stops says why");
    boardring_test::marks_must_be_right(plan);
    boardring_test::must(!plan_page(plan, {"planter", "planter.json", true, false}).empty(), "there is a page");
    write_plan(plan);
    return 0;
}
