// Published and independently computed optima of cutting-stock instances, and one of mitred pieces.
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "stock/buying.hpp"
#include "support/catch.hpp"
#include "support/source_folder.hpp"
#include "support/cut_check.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

BuyingSection read_instance(const std::filesystem::path& path) {
    std::ifstream in(path);
    REQUIRE(in.good());
    BuyingSection section;
    std::string name;
    std::size_t kinds = 0;
    in >> name >> section.strip.kerf_mm >> kinds;
    section.strip.width_mm = 100.0;
    for (std::size_t k = 0; k < kinds; ++k) {
        BarOffer offer;
        double price = 0.0;
        long supply = 0;
        in >> offer.length_mm >> price >> supply;
        offer.price = price;
        if (supply >= 0) offer.count = static_cast<std::size_t>(supply);
        section.offers.push_back(offer);
    }
    in >> kinds;
    for (std::size_t k = 0; k < kinds; ++k) {
        StripPiece piece;
        in >> piece.length_mm >> piece.count;
        section.pieces.push_back(piece);
    }
    REQUIRE(!in.fail());
    return section;
}

void require_proven(const std::filesystem::path& path, double optimum) {
    INFO(path.filename().string());
    const BuyingSection section = read_instance(path);
    const SectionBuy buy = buy_section(section);
    REQUIRE(buy.outcome == BuyingOutcome::cheapest);
    REQUIRE(buy.price == optimum);
    REQUIRE(fault_of(section, buy) == "");
}

}  // namespace

TEST_CASE("generated instances are solved to their proven optimum") {
    const std::filesystem::path folder = source_folder() / "tests/reference/data/cutting-stock";
    std::ifstream optima(folder / "optima.tsv");
    std::string name, how;
    double optimum = 0.0;
    std::size_t seen = 0;
    while (optima >> name >> optimum >> how) {
        require_proven(folder / (name + ".csp"), optimum);
        ++seen;
    }
    REQUIRE(seen == 14);
}

TEST_CASE("open instances are solved to their published optimum") {
    // The data may not be copied into this repository: the folder is named by BOARDRING_REFERENCES.
    const char* references = std::getenv("BOARDRING_REFERENCES");
    if (references == nullptr) {
        WARN("BOARDRING_REFERENCES is not set: the open cutting-stock instances were not run");
        return;
    }
    const std::filesystem::path folder = std::filesystem::path(references) / "cutting-stock";
    std::ifstream index(folder / "index.tsv");
    REQUIRE(index.good());
    std::string line;
    std::getline(index, line);
    std::size_t seen = 0;
    while (std::getline(index, line)) {
        std::vector<std::string> fields;
        std::istringstream cells(line);
        for (std::string cell; std::getline(cells, cell, '\t');) fields.push_back(cell);
        require_proven(folder / "instances" / (fields[0] + ".csp"), std::stod(fields[9]));
        ++seen;
    }
    REQUIRE(seen == 36);
}

TEST_CASE("twelve mitred pieces cost what exhaustive search proved, under each rule of turning") {
    // Unit 0.1 mm, width 900, kerf 30; runs 373 (22.5 deg), 520 (30 deg), 900 (45 deg). Optima by dynamic programming over all subsets and
    // by a set-partitioning programme over all feasible ones.
    BuyingSection section;
    section.strip.width_mm = 900.0;
    section.strip.kerf_mm = 30.0;
    section.strip.kerf_at_ends = true;
    section.pieces = {{8600, 900, -900, 3}, {6450, 900, 900, 2}, {7300, 520, -520, 2},
                      {5150, 373, -900, 2}, {9800, 520, 373, 2}, {4300, 373, 373, 1}};
    section.offers = {{25500, 810, {}, false}, {45000, 1400, {}, false}};
    struct Rule {
        std::vector<Turning> turnings;
        double price;
    };
    const std::vector<Rule> rules = {
        {{Turning::as_first}, 3020},
        {{Turning::as_first, Turning::end_for_end}, 2800},
        {{Turning::as_first, Turning::top_to_bottom, Turning::edge_for_edge, Turning::end_for_end}, 2800},
    };
    for (const Rule& rule : rules) {
        section.strip.turnings = rule.turnings;
        const SectionBuy buy = buy_section(section);
        CHECK(buy.outcome == BuyingOutcome::cheapest);
        CHECK(buy.price == rule.price);
        CHECK(fault_of(section, buy) == "");
    }
    // Each piece as the box round its long points, kerf square: what buying without turning head to tail costs.
    BuyingSection boxes = section;
    for (StripPiece& piece : boxes.pieces) {
        const double left = std::abs(piece.left_run_mm) / 2.0;
        const double right = std::abs(piece.right_run_mm) / 2.0;
        piece.length_mm += left + right;
        piece.left_run_mm = piece.right_run_mm = 0.0;
    }
    CHECK(buy_section(boxes).price == 3240);
}
