// What `boardring closure` prints, and its histogram.
#include "report/closure_page.hpp"

#include <algorithm>
#include <string>
#include <vector>

#include "plan/last_joint.hpp"
#include "report/openings_drawing.hpp"
#include "support/catch.hpp"
#include "support/ring.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

const PageOptions kPage{"some-project", "some-project.json", false};

Project planter(Unit unit) {
    const Outline outline = regular_ring(6, 369.5);
    Project project = project_for(outline, {38.0, 38.0, 38.0, 28.0, 38.0, 38.0});
    project.outline.form = PointsOutline{outline.corners_mm};
    project.unit = unit;
    project.title = "Planter";
    if (unit == Unit::inch) project.tools.rule_step_mm = 25.4 / 16.0;
    return project;
}

std::string page_of(const Project& project, std::size_t runs = 4000) {
    const Plan plan = make_plan(project);
    TrialOptions options;
    options.runs = runs;
    const auto study = study_last_joint(plan, options);
    REQUIRE(study);
    return closure_page(plan, *study, kPage);
}

// Openings of `count` rings, evenly from 0 to most_mm.
TrialResult openings(std::size_t count, double most_mm) {
    TrialResult result;
    for (std::size_t i = 0; i < count; ++i) result.sorted.push_back(most_mm * static_cast<double>(i + 1) / static_cast<double>(count));
    return result;
}

}  // namespace

TEST_CASE("a project without a title is named by its shape") {
    Project project = planter(Unit::mm);
    CHECK(page_of(project).rfind("LAST JOINT Planter; slopes by bevel", 0) == 0);
    project.title.clear();
    CHECK(page_of(project).rfind("LAST JOINT Six-sided ring, inside sizes, 145 high; slopes by bevel", 0) == 0);
}

TEST_CASE("inch jobs read small lengths as a rule shows them") {
    Project project = planter(Unit::inch);
    project.accuracy.cut_angle_deg = 1.0;  // no opening worth telling is under 1/64
    const std::string page = page_of(project);
    const std::string odds = page.substr(page.find("DRAWN IN"), page.find("WHY") - page.find("DRAWN IN"));
    CHECK(odds.find("/64 in") != std::string::npos);
    INFO(odds);
    CHECK(odds.find("0.0") == std::string::npos);
}

TEST_CASE("steps of the histogram are round on the rule, few, and hold every ring once") {
    for (const bool inches : {false, true}) {
        for (const double most_mm : {0.003, 0.07, 0.9, 1.0, 3.3, 12.0, 47.0}) {
            const TrialResult widest = openings(5000, most_mm);
            const OpeningBins bins = bin_openings(widest, inches);
            INFO("inches " << inches << " most " << most_mm);
            CHECK(bins.counts.size() <= kMostBins);
            CHECK(bins.counts.size() >= (inches ? 6U : 8U));
            std::size_t all = 0;
            for (const std::size_t count : bins.counts) all += count;
            CHECK(all == 5000);
            CHECK(bins.most == *std::max_element(bins.counts.begin(), bins.counts.end()));
            // A ring that opens just to the end of a step lies in it, the next in the next.
            for (std::size_t b = 0; b + 2 < bins.counts.size(); ++b) {
                CHECK(bins.bin_of(bins.end_mm(b)) == b);
                CHECK(bins.bin_of(bins.end_mm(b) * 1.0001) == b + 1);
            }
        }
    }
    CHECK(bin_openings(openings(100, 1.0), true).end_words(2) == "3/256");
    CHECK(bin_openings(openings(100, 9.0), true).end_words(2) == "3/16");
    CHECK(bin_openings(openings(100, 1.0), false).end_words(2) == "0.3");
    CHECK(bin_openings(openings(100, 0.0), false).most == 0);
}
