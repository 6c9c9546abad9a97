// Whatever the project, its page keeps its promises: short, narrow, clean, numbers those of the plan, sums that add up as
// printed.
#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <optional>
#include <regex>
#include <sstream>
#include <string>
#include <vector>

#include "base/names.hpp"
#include "io/read_project.hpp"
#include "plan/plan.hpp"
#include "report/cut_list_csv.hpp"
#include "report/report_text.hpp"
#include "report/wording.hpp"
#include "support/catch.hpp"
#include "support/source_folder.hpp"
#include "support/full_size.hpp"
#include "support/random_frame.hpp"

using namespace boardring;
using boardring_test::Random;

namespace {

const PageOptions kPage{"garden/some-project", "garden/some-project.json", false};
const PageOptions kMore{"garden/some-project", "garden/some-project.json", true};

std::vector<std::string> lines_of(const std::string& page) {
    std::vector<std::string> lines;
    std::size_t start = 0;
    for (std::size_t end = page.find('\n'); end != std::string::npos; end = page.find('\n', start)) {
        lines.push_back(page.substr(start, end - start));
        start = end + 1;
    }
    return lines;
}

std::string some_text(Random& random) {
    std::string text;
    for (std::size_t i = random.index(40); i > 0; --i) {
        const double kind = random.unit();
        if (kind < 0.7) {
            text += static_cast<char>('a' + static_cast<char>(random.index(26)));
        } else if (kind < 0.85) {
            text += ' ';
        } else {
            text += static_cast<char>(random.index(256));
        }
    }
    return text;
}

// A random frame with a maker round it: unit, steps, scale, way of setting, wishes, other pieces, defaults.
std::optional<Plan> random_plan(std::uint64_t seed) {
    boardring_test::FrameCase made = boardring_test::random_frame_case(seed, 1);
    Random random(seed ^ 0x5eed);
    Project& p = made.project;
    p.outline.form = PointsOutline{made.outline.corners_mm};
    p.outline.open = !made.outline.closed;
    p.title = some_text(random);
    p.unit = static_cast<Unit>(random.index(5));
    const bool inches = p.unit == Unit::inch || p.unit == Unit::foot;
    constexpr double kInchSteps[] = {25.4 / 16.0, 25.4 / 32.0};
    constexpr double kSteps[] = {0.1, 0.5, 1.0};
    constexpr double kSawSteps[] = {0.05, 0.1, 0.25, 0.5, 1.0};
    p.tools.rule_step_mm = inches ? kInchSteps[random.index(2)] : kSteps[random.index(3)];
    p.tools.bevel_base_mm = inches ? 304.8 : 300.0;
    p.tools.saw_step_deg = kSawSteps[random.index(5)];
    p.tools.scale_at_square_deg = random.chance(0.3) ? 90.0 : 0.0;
    p.tools.slope_by = static_cast<SlopeBy>(random.index(3));
    p.accuracy.preset = static_cast<Preset>(random.index(3));
    p.courses = 1 + random.index(3);
    if (random.chance(0.3)) p.wanted.fit_last = random.index(p.boards.size());
    if (random.chance(0.5)) p.wanted.leave_long_mm = random.between(2.0, 20.0);
    Stock stock;
    stock.name = some_text(random);
    stock.width_mm = random.between(20.0, 300.0);
    stock.thickness_mm = random.between(10.0, 100.0);
    p.stock = {stock};
    for (std::size_t i = random.index(3); i > 0; --i) {
        PieceAsked piece;
        piece.name = some_text(random);
        piece.length_mm = random.between(50.0, 2000.0);
        piece.count = 1 + random.index(9);
        piece.left_saw_deg = random.chance(0.5) ? 0.0 : random.between(-60.0, 60.0);
        p.pieces.push_back(piece);
    }
    for (std::size_t i = random.index(25); i > 0; --i) p.assumed.push_back({"/tools/" + some_text(random), some_text(random)});
    Plan plan = make_plan(p);
    if (!plan.complete() || has_error(plan.findings)) return std::nullopt;
    return plan;
}

void check_clean(const std::string& page) {
    for (const std::string& line : lines_of(page)) {
        CHECK(columns_of(line) <= kPageColumns);
        CHECK((line.empty() || line.back() != ' '));
        for (const char c : line) {
            if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) FAIL("control character in: " << line);
        }
    }
    CHECK((!page.empty() && page.back() == '\n'));
}

// "15.5 + 44.5 = 60", "61.7 - 1.7 = 60 (rounded)", "21.5 + 49.5 = 71, for 71.3".
void check_sums(const std::string& page) {
    static const std::regex kSum(
        R"((?:^|[^+] )([0-9.]+) ([+-]) ([0-9.]+) = ([0-9.]*[0-9])( \(rounded\))?)");  // two terms, not the tail of a longer sum
    const std::string text = clean_text(page, page.size());
    for (std::sregex_iterator it(text.begin(), text.end(), kSum), end; it != end; ++it) {
        const std::smatch& sum = *it;
        const bool adds = adds_up({sum[1], (sum[2] == "-" ? "-" : "") + sum[3].str()}, sum[4].str());
        if (sum[5].matched) {
            CHECK_FALSE(adds);
            const double left = std::stod(sum[1]) + (sum[2] == "-" ? -1.0 : 1.0) * std::stod(sum[3]);
            CHECK_THAT(left, WithinAbs(std::stod(sum[4]), 0.2));
        } else if (it->prefix().str().find("Check: ") != std::string::npos ||
                   text.find("Check: " + sum.str()) != std::string::npos) {
            INFO(sum.str());
            CHECK(adds);
        }
    }
}

// A board's own row holds its lengths and settings, rounded as the maker's rule and saw have it.
void check_rows(const Plan& plan, const std::string& page) {
    const std::vector<std::string> lines = lines_of(page);
    std::size_t row = 0;
    while (row < lines.size() && lines[row].rfind("BOARDS", 0) != 0) ++row;
    REQUIRE(row + 2 < lines.size());
    for (row += 2; row < lines.size() && lines[row].rfind("  ", 0) == 0; ++row) {
        const std::string number = lines[row].substr(2, lines[row].find(' ', 2) - 2);
        const std::string rest = lines[row].substr(std::min(lines[row].size(), 2 + number.size()));
        const std::size_t after = rest.find_first_not_of(' ');
        if (number.empty() || number.find_first_not_of("0123456789") != std::string::npos || after == std::string::npos ||
            (after < 2 && rest[after] > '9'))
            continue;
        if (rest[after] < '0' || rest[after] > '9') continue;  // "1, 2 and 6": a row of several, or a sentence
        const std::size_t k = std::stoul(number) - 1;
        REQUIRE(k < plan.shown.size());
        INFO(lines[row]);
        const auto has = [&](const std::string& cell) { return (rest + " ").find(" " + cell + " ") != std::string::npos; };
        CHECK(has(shown(plan.shown[k].outside_length_mm, plan.project)));
        CHECK(has(shown(plan.shown[k].inside_length_mm, plan.project)));
        for (std::size_t e = 0; e < 2; ++e) {
            const double saw_deg = plan.frame->boards[k].ends[e].saw_deg;
            const std::vector<SawWay>& ways = plan.shown[k].ends[e].ways;
            const bool within = std::any_of(ways.begin(), ways.end(), [](const SawWay& way) { return way.within_saw; });
            const std::string setting =
                shown_away_deg(saw_deg, plan.project) == 0.0 ? "square" : show_setting(saw_deg, plan.project);
            CHECK(has(setting + (within ? "" : "*")));
        }
    }
}

}  // namespace

TEST_CASE("pages of random projects are short, narrow and clean, and their numbers are the plan's") {
    // Four pages a project, each with the builds its odds are told from: few projects, or the sanitizers take ten minutes for this alone.
    const std::size_t wanted = boardring_test::cases(300, 50000);
    std::size_t planned = 0;
    for (std::uint64_t seed = 1; planned < wanted && seed < 20 * wanted; ++seed) {
        const std::optional<Plan> plan = random_plan(seed);
        if (!plan) continue;
        ++planned;
        INFO("seed " << seed);
        const std::string page = plan_page(*plan, kPage);
        // Random rings have boards all unlike, of sections all unlike, with cuts past the saw: their pages may run on, demos may
        // not.
        CHECK(lines_of(page).size() <= 80);
        check_clean(page);
        check_sums(page);
        check_rows(*plan, page);
        const std::string more = plan_page(*plan, kMore);
        check_clean(more);
        check_rows(*plan, more);
        check_clean(check_page(*plan, kPage));
        CHECK(plan_page(*plan, kPage) == page);
    }
    CHECK(planned == wanted);
}

TEST_CASE("cut lists of random projects have one width and no cell that starts a formula") {
    const std::size_t wanted = boardring_test::cases(300, 10000);
    std::size_t planned = 0;
    for (std::uint64_t seed = 1; planned < wanted; ++seed) {
        const std::optional<Plan> plan = random_plan(seed);
        if (!plan) continue;
        ++planned;
        INFO("seed " << seed);
        const std::string text = cut_list_csv(*plan);
        std::size_t columns = 1, width = 0, rows = 0;
        bool quoted = false, starts = true;
        for (std::size_t i = 0; i < text.size(); ++i) {
            const char c = text[i];
            if (c == '"') {
                quoted = !quoted;
                continue;  // a doubled quote opens and closes
            }
            if (starts && std::string("=+-@\t").find(c) != std::string::npos) FAIL("a cell starts with " << c);
            starts = !quoted && (c == ',' || c == '\n');
            if (quoted) continue;
            if (c == ',') ++columns;
            if (c == '\n') {
                if (width == 0) width = columns;
                CHECK(columns == width);
                CHECK(text[i - 1] == '\r');
                columns = 1;
                ++rows;
            }
        }
        CHECK(rows == 1 + plan->shown.size() + plan->project.pieces.size());
    }
}

TEST_CASE("pages of the demos are under forty lines and show every board, with a picture") {
    std::size_t demos = 0;
    for (const auto& entry : std::filesystem::directory_iterator(source_folder() / "projects")) {
        if (entry.path().extension() != ".json") continue;
        const auto text_of = [](const std::filesystem::path& path) {
            std::ifstream file(path);
            std::ostringstream text;
            text << file.rdbuf();
            return text.str();
        };
        const ProjectRead read = read_project(text_of(entry.path()), [&](const std::string& name) {
            return BesideText{text_of(entry.path().parent_path() / name), ""};
        });
        REQUIRE(read.project);
        const Plan plan = make_plan(*read.project);
        if (has_error(plan.findings)) continue;
        ++demos;
        INFO(entry.path().string());
        const std::string page = plan_page(plan, kPage);
        CHECK(lines_of(page).size() < 40);
        check_clean(page);
        check_sums(page);
        CHECK(page.find("more kinds of board") == std::string::npos);
        CHECK(page.find("\nSIZES") == std::string::npos);
    }
    CHECK(demos >= 8);
}
