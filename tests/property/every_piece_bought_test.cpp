// What is bought against what the job needs, counted piece by piece.
#include "plan/buying_plan.hpp"

#include <cmath>
#include <cstddef>
#include <map>
#include <string>

#include "io/read_project.hpp"
#include "plan/plan.hpp"
#include "report/buying_text.hpp"
#include "support/catch.hpp"

namespace boardring {
namespace {

struct Case {
    const char* what;
    const char* boards;
    std::size_t spares;
};

std::string project_of(const Case& c) {
    return std::string(R"({ "format": "boardring-project-1", "units": "mm", "outline": { "line": "inside", "regular": { "corners": 6, "side": 400 } },)") +
           R"("stock": { "rail": { "width": 145, "thickness": 38, "lengths": [ { "length": 3600, "price": 15 } ] } },)" +
           R"("copies": 2, "pieces": [ { "name": "foot", "stock": "rail", "length": 320, "count": 3 } ], "wanted": { "spares": )" + std::to_string(c.spares) +
           R"( }, "boards": { "lie": "on edge", "courses": 2, "all": { "stock": "rail" }, )" + c.boards + " } }";
}

}  // namespace

TEST_CASE("every piece is bought as often as the job needs it, whatever sizes its boards have", "[buying]") {
    const Case kCases[] = {{"all alike", R"("1": {})", 0},
                           {"one measured", R"("5": { "thickness": 37.2 })", 1},
                           {"one planed", R"("4": { "thickness": 28 })", 1},
                           {"one that tapers", R"("4": { "thickness": [38, 36.6] })", 0},
                           {"three sizes", R"("2": { "thickness": 36.9 }, "4": { "thickness": 28 }, "6": { "thickness": 39 })", 2}};
    for (const Case& c : kCases) {
        INFO(c.what);
        const ProjectRead read = read_project(project_of(c));
        REQUIRE(read.project);
        const Plan plan = make_plan(*read.project);
        REQUIRE(plan.buying);
        REQUIRE(plan.buying->sections.size() == 1);
        const SectionPurchase& purchase = plan.buying->sections.front();
        std::map<std::size_t, std::size_t> asked;  // by first board of a kind
        std::size_t boards = 0, feet = 0, spares = 0;
        for (const CutBar& bar : purchase.buy.bars) {
            for (const PlacedPiece& placed : bar.pieces) {
                const BoughtPiece& name = purchase.names[placed.kind];
                boards += name.what == BoughtPiece::What::board ? 1 : 0;
                feet += name.what == BoughtPiece::What::extra ? 1 : 0;
                spares += name.what == BoughtPiece::What::spare ? 1 : 0;
                if (name.what == BoughtPiece::What::board) ++asked[name.boards.front()];
            }
        }
        CHECK(boards == 6 * 2 * 2);
        CHECK(feet == 3 * 2);
        CHECK(spares == c.spares);
        for (const BoughtPiece& name : purchase.names) {
            if (name.what != BoughtPiece::What::board) continue;
            CHECK(asked[name.boards.front()] == name.boards.size() * 4);
            const Board& board = plan.frame->boards[name.boards.front()];
            CHECK(name.rough == (board.width_at(0) < 30.0));
            for (const std::size_t e : {0U, 1U})
                CHECK(name.saw_deg[e] == (name.rough ? 0.0 : std::abs(board.ends[e].saw_deg)));
        }
    }
}

// Two jobs that call their boards alike: each is cut from its own, and every section is told by its own size and wood.
TEST_CASE("jobs bought together keep their own wood, trim and saw cut", "[buying]") {
    const auto job = [](const char* rail, const char* kerf) {
        return read_project(std::string(R"({ "format": "boardring-project-1", "units": "mm", "stock": { "rail": )") + rail + R"( }, "tools": { "kerf": )" + kerf +
                            R"( }, "pieces": [ { "name": "a", "stock": "rail", "length": 1100, "count": 2 } ] })")
            .project.value();
    };
    const auto rail = [](const char* size, const char* wood, const char* trim, const char* price) {
        return std::string("{ ") + size + R"(, "species": ")" + wood + R"(", "end_trim": )" + trim + R"(, "lengths": [ { "length": 2600, "price": )" + price + " } ] }";
    };
    const std::string small = R"("width": 100, "thickness": 20)", large = R"("width": 120, "thickness": 20)";
    struct Pair {
        std::string second;
        const char* kerf;
        std::size_t sections;
        const char* says;
    };
    const Pair kPairs[] = {{rail(small.c_str(), "oak", "0", "60"), "3", 1, "2 of 100 x 20 at 2.6 m."},
                           {rail(small.c_str(), "pine", "0", "8"), "3", 2, "1 of 100 x 20 oak at 2.6 m and 1 of 100 x 20 pine at 2.6 m."},
                           {rail(large.c_str(), "oak", "0", "60"), "3", 2, "1 of 100 x 20 at 2.6 m and 1 of 120 x 20 at 2.6 m."},
                           {rail(small.c_str(), "oak", "20", "60"), "3", 2, "1 of 100 x 20 at 2.6 m and 1 of 100 x 20 at 2.6 m."},
                           {rail(small.c_str(), "oak", "0", "60"), "5", 2, "1 of 100 x 20 at 2.6 m and 1 of 100 x 20 at 2.6 m."}};
    for (const Pair& pair : kPairs) {
        const std::string oak = rail(small.c_str(), "oak", "0", "60");
        const Plan first = make_plan(job(oak.c_str(), "3")), second = make_plan(job(pair.second.c_str(), pair.kerf));
        const auto to_buy = [](const Plan& plan) { return FrameToBuy{&plan.project, plan.frame ? &*plan.frame : nullptr, &*plan.cut_list}; };
        const Buying buying = plan_buying({to_buy(first), to_buy(second)}, {});
        CAPTURE(pair.says);
        CHECK(buying.sections.size() == pair.sections);
        CHECK(bought_words(buying, {&first.project, &second.project}).starts_with(pair.says));
    }
}

}  // namespace boardring
