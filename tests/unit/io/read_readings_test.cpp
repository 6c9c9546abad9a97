// Notebook lines, as part of a project file.
#include <string>
#include <variant>
#include <vector>

#include "io/read_project.hpp"
#include "support/catch.hpp"

using namespace boardring;

namespace {

std::string job(const std::string& readings, bool open = false, const std::string& unit = "mm") {
    return R"({"format": "boardring-project-1", "units": ")" + unit + R"(", "outline": {"line": "inside", "open": )" +
           (open ? "true" : "false") + ", \"readings\": [" + readings +
           R"(]}, "boards": {"lie": "flat", "all": {"width": "90 mm", "thickness": "20 mm"}}})";
}

std::vector<Reading> readings_of(const std::string& text) {
    const ProjectRead read = read_project(text);
    for (const Finding& f : read.findings) UNSCOPED_INFO(f.code << " " << f.message);
    REQUIRE(read.project);
    return std::get<ReadingsOutline>(read.project->outline.form).readings;
}

// The reading that `text` gives in a triangle of which all else is known.
Reading in_triangle(const std::string& text, const std::string& rest) {
    const auto readings = readings_of(job("\"" + text + "\", " + rest));
    return readings.front();
}

const std::string kNoAB = R"("BC 900", "CA 900", "A 60", "B 60", "C 60")";
const std::string kNoA = R"("AB 900", "BC 900", "CA 900", "B 60", "C 60")";

std::vector<std::string> codes_of(const std::string& text) {
    std::vector<std::string> codes;
    for (const Finding& f : read_project(text).findings) codes.push_back(f.code);
    return codes;
}

}  // namespace

TEST_CASE("A side is two letters and a length, in every spelling of the notebook") {
    for (const std::string text : {"AB 900", "ab 900", "A-B 900", "A - B 900", "a\u2013b 900", "A\u2014B  900 ", "B-A 90 cm",
                                   "BA 0.9 m", "AB900", " AB 900 mm"}) {
        INFO(text);
        const Reading reading = in_triangle(text, kNoAB);
        CHECK(reading.kind == Reading::Kind::side);
        CHECK(reading.first == 0);
        CHECK(reading.second == 1);
        REQUIRE(reading.value);
        CHECK_THAT(*reading.value, within_mm(900, 1e-9));
        CHECK(reading.text == text);
        CHECK(reading.pointer == "/outline/readings/0");
        CHECK_FALSE(reading.accuracy);
    }
}

TEST_CASE("An angle is one letter and degrees") {
    for (const std::string text : {"A 60.5", "a 60 1/2", "A 60-1/2", "A 60\u00B030'", "A60.5"}) {
        INFO(text);
        const Reading reading = in_triangle(text, kNoA);
        CHECK(reading.kind == Reading::Kind::angle);
        CHECK(reading.first == 0);
        CHECK(reading.second == 0);
        CHECK_THAT(*reading.value, within_deg(60.5, 1e-12));
    }
}

TEST_CASE("Half a unit of the last digit is kept, for lengths and angles") {
    CHECK(in_triangle("AB 900", kNoAB).half_step == 0.5);
    CHECK_THAT(in_triangle("AB 90.0 cm", kNoAB).half_step, within_mm(0.5, 1e-12));
    CHECK(in_triangle("A 60", kNoA).half_step == 0.5);
    CHECK_THAT(in_triangle("A 60.5", kNoA).half_step, within_deg(0.05, 1e-12));
}

TEST_CASE("Own accuracy is read in the unit of the reading") {
    CHECK(in_triangle("AB 900 +-3", kNoAB).accuracy == 3.0);
    CHECK(in_triangle("AB 900\u00B13 mm", kNoAB).accuracy == 3.0);
    CHECK_THAT(in_triangle("AB 900 +/- 1/8 in", kNoAB).accuracy.value(), within_mm(3.175, 1e-12));
    CHECK(in_triangle("A 60 +- 0.2", kNoA).accuracy == 0.2);
}

TEST_CASE("Inward marks an angle measured outside the ring, before or behind its accuracy") {
    for (const std::string text : {"A 60 inward", "A 60 inward +-1", "A 60 +-1 inward"}) {
        const Reading reading = in_triangle(text, kNoA);
        CHECK(reading.inward);
        CHECK(*reading.value == 60.0);
    }
    CHECK(codes_of(job("\"A 270 inward\", " + kNoA)) == std::vector<std::string>{"reading.inward-twice"});
    CHECK(in_triangle("A 180 inward", kNoA).inward);
}

TEST_CASE("A length between corners that are no neighbours is a check across the ring") {
    const auto readings =
        readings_of(job(R"("AB 900", "BC 700", "CD 900", "DA 700", "A 90", "B 90", "C 90", "D 90", "AC 1140", "DB 1140")"));
    CHECK(readings[3].kind == Reading::Kind::side);
    CHECK(readings[3].first == 3);
    CHECK(readings[3].second == 0);
    CHECK(readings[8].kind == Reading::Kind::diagonal);
    CHECK(readings[9].kind == Reading::Kind::diagonal);
}

TEST_CASE("In an open chain the span from end to end is a check, and free ends have no angle") {
    const auto readings = readings_of(job(R"("AB 2040", "BC 770", "CD 2046", "B 90", "C 90", "DA 772")", true));
    CHECK(readings.back().kind == Reading::Kind::diagonal);
    CHECK(codes_of(job(R"("AB 2040", "BC 770", "CD 2046", "B 90", "C 90", "D 90")", true)) ==
          std::vector<std::string>{"reading.free-end"});
    CHECK(codes_of(job(R"("AB 2040", "BC 770", "CD 2046", "B 90")", true)) == std::vector<std::string>{"reading.missing"});
    CHECK(readings_of(job(R"("AB 2040")", true)).size() == 1);
}

TEST_CASE("Beyond 26 corners two letters are one corner and a length needs the dash") {
    std::string all;
    std::vector<std::string> letters;
    for (char c = 'A'; c <= 'Z'; ++c) letters.emplace_back(1, c);
    letters.emplace_back("AA");
    letters.emplace_back("AB");
    for (std::size_t i = 0; i < letters.size(); ++i) {
        all += "\"" + letters[i] + "-" + letters[(i + 1) % letters.size()] + " 100\", \"" + letters[i] + " 167.14\", ";
    }
    const auto readings = readings_of(job(all + "\"A-AA 11\""));
    CHECK(readings.size() == 57);
    CHECK(readings[53].kind == Reading::Kind::angle);
    CHECK(readings[53].first == 26);
    CHECK(readings[54].first == 27);
    CHECK(readings[54].second == 0);
    CHECK(readings[56].kind == Reading::Kind::diagonal);
}

TEST_CASE("Everything that is missing is told at once") {
    const ProjectRead read = read_project(job(R"("AB 900", "CD 700", "A 90", "C 90")"));
    REQUIRE(read.findings.size() == 1);
    CHECK(read.findings[0].code == "reading.missing");
    CHECK_THAT(read.findings[0].message,
               ContainsSubstring("4 corners") && ContainsSubstring("BC, DA, the angle at B and the angle at D"));
}

TEST_CASE("A question mark is no missing reading: up to three values of a ring may be open, with a hint behind them") {
    CHECK_FALSE(readings_of(job("\"AB ?\", " + kNoAB)).front().value.has_value());
    const Reading near = readings_of(job("\"A ? near 97\", " + kNoA)).front();
    CHECK_FALSE(near.value.has_value());
    CHECK(near.near == 97.0);
    CHECK(readings_of(job("\"A ? inward\", " + kNoA)).front().inward);
    CHECK(codes_of(job("\"AB ? inward\", " + kNoAB)) == std::vector<std::string>{"reading.not-understood"});
    CHECK(codes_of(job("\"AB ? near\", " + kNoAB)) == std::vector<std::string>{"length.not-understood"});
    CHECK(codes_of(job("\"AB ? near -4\", " + kNoAB)) == std::vector<std::string>{"value.out-of-range"});
}

TEST_CASE("A reading that cannot be understood is told once and hides nothing else") {
    CHECK(codes_of(job("\"12 AB\", \"BC 1,200\", " + kNoAB)) ==
          std::vector<std::string>{"reading.not-understood", "length.ambiguous", "reading.repeated"});
    CHECK(codes_of(job("\"ABCD 5\", " + kNoAB)) == std::vector<std::string>{"reading.not-understood"});
    CHECK(codes_of(job("\"AB 900 +-\", " + kNoAB)) == std::vector<std::string>{"reading.not-understood"});
    CHECK(codes_of(job("\"AB 900 +-0\", " + kNoAB)) == std::vector<std::string>{"value.out-of-range"});
    CHECK(codes_of(job("\"AB\", " + kNoAB)) == std::vector<std::string>{"reading.not-understood"});
    CHECK(codes_of(job("\"AB 900 inwards\", " + kNoAB)) == std::vector<std::string>{"length.not-understood"});
}

TEST_CASE("Angles of 0 and 360, and what is beyond, are refused; 180 is a straight corner") {
    for (const std::string deg : {"0", "360", "400", "-20"}) {
        INFO(deg);
        CHECK(codes_of(job("\"A " + deg + "\", " + kNoA)).size() == 1);
    }
    CHECK(*in_triangle("A 180", kNoA).value == 180.0);
    CHECK(*in_triangle("A 359.9", kNoA).value == 359.9);
}

TEST_CASE("The line and column of a reading are those of its quote") {
    const ProjectRead read = read_project(
        "{\"format\": \"boardring-project-1\", \"units\": \"mm\",\n \"outline\": {\"line\": \"inside\", \"readings\": [\n  \"AB "
        "900\", \"BC 5-3\",\n"
        "  \"CA 900\", \"A 60\", \"B 60\", \"C 60\"]},\n \"boards\": {\"lie\": \"flat\", \"all\": {\"width\": 90, \"thickness\": "
        "20}}}");
    REQUIRE(read.findings.size() == 1);
    CHECK(read.findings[0].code == "length.ambiguous");
    CHECK(read.findings[0].pointer == "/outline/readings/1");
    CHECK(read.findings[0].line == 3);
    CHECK(read.findings[0].column == 13);
}
