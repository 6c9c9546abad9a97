#include "spoken/change.hpp"

#include <array>
#include <string>
#include <vector>

#include "io/read_project.hpp"
#include "support/catch.hpp"

using namespace boardring;

namespace {

const std::string kBed = R"(// five sides
{
  "format": "boardring-project-1",
  "title": "Bed",
  "units": "mm",
  "outline": { "line": "inside", "readings": [
    "AB 1150", "BC 860", "CD 940", "DE 1027", "ea  737 +-2",
    "A 106", "B 112", "C 103", "D 117", "E 107"   // C looks odd
  ] },
  "stock": {
    "rail": { "width": 145, "thickness": 38, "lengths": [ { "length": 2400, "price": 9.60 } ] },
    "slim": { "width": 145, "thickness": "28" }
  },
  "boards": { "lie": "on edge", "all": { "stock": "rail" } },
  "joints": { "all": { "kind": "mitre" }, "d": { "kind": "butt", "through": 3 } },
  "tools": { "kerf": 3 }
}
)";

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

void changes(const std::string& phrase, const std::string& from, const std::string& to) {
    INFO(phrase);
    const ChangedProject changed = change_project(kBed, {phrase});
    for (const Finding& finding : changed.findings) UNSCOPED_INFO(finding.message);
    REQUIRE(changed.ok());
    CHECK(changed.text == replaced(kBed, from, to));
    REQUIRE_FALSE(changed.back.empty());
    const ChangedProject back = change_project(changed.text, changed.back);
    REQUIRE(back.ok());
    CHECK(back.text == kBed);
}

Finding refusal(const std::string& text, const std::string& phrase) {
    INFO(phrase);
    const ChangedProject changed = change_project(text, {phrase});
    CHECK(changed.text == text);
    CHECK(changed.back.empty());
    REQUIRE_FALSE(changed.findings.empty());
    return changed.findings.front();
}

std::string with_outline(const std::string& outline) {
    const std::size_t from = kBed.find("\"outline\""), to = kBed.find("\"stock\"");
    std::string text = kBed.substr(0, from) + "\"outline\": " + outline + ",\n  " + kBed.substr(to);
    return replaced(text, R"(, "d": { "kind": "butt", "through": 3 })", "");
}

std::string outline_after(const std::string& outline, const std::string& phrase) {
    const ChangedProject changed = change_project(with_outline(outline), {phrase});
    for (const Finding& finding : changed.findings) UNSCOPED_INFO(finding.message);
    INFO(phrase);
    REQUIRE(changed.ok());
    CHECK(change_project(changed.text, changed.back).text == with_outline(outline));
    const std::size_t from = changed.text.find("\"outline\": ") + 11;
    return changed.text.substr(from, changed.text.find(",\n  \"stock\"") - from);
}

}  // namespace

TEST_CASE("readings are changed in their line of the notebook") {
    changes("C is 98", "\"C 103\"", "\"C 98\"");
    changes("c 98", "\"C 103\"", "\"C 98\"");
    changes("set corner C to 98", "\"C 103\"", "\"C 98\"");
    changes("AB is 902", "\"AB 1150\"", "\"AB 902\"");
    changes("BA = 902 +-3", "\"AB 1150\"", "\"AB 902 +-3\"");
    changes("side A-B is 3' 6-3/4\"", "\"AB 1150\"", R"("AB 3' 6-3/4\"")");
    changes("EA is 740", "\"ea  737 +-2\"", "\"ea  740 +-2\"");
    changes("AC is 1423", "\"E 107\"", "\"E 107\", \"AC 1423\"");
    changes("D inward", "\"D 117\"", "\"D 117 inward\"");
}

TEST_CASE("a change of a length leaves what was read against level of the same two corners") {
    const std::string window = R"({ "format": "boardring-project-1", "title": "W", "units": "mm",
  "outline": { "line": "inside", "seen": "from the room", "basis": "found", "margin": { "all": 8, "least": 3, "most": 16 }, "hang": "true",
    "readings": [ "AB fall 3", "B tie 600 800 1000", "AB 903", "BC 1194", "CD 909", "DA 1201", "AC 1496", "B 90" ] },
  "boards": { "lie": "flat", "all": { "width": 70, "thickness": 18 } } })";
    const ChangedProject longer = change_project(window, {"AB is 905"});
    REQUIRE(longer.ok());
    CHECK(longer.text == replaced(window, "AB 903", "AB 905"));
    const ChangedProject wider = change_project(window, {"B is 89"});
    REQUIRE(wider.ok());
    CHECK(wider.text == replaced(window, "\"B 90\"", "\"B 89\""));
    const ChangedProject along = change_project(window, {"hang is as found"});
    REQUIRE(along.ok());
    CHECK(along.text == replaced(window, "\"hang\": \"true\"", "\"hang\": \"as found\""));
    CHECK(along.back.size() == 1);
}

TEST_CASE("what is read against level, a bow or a width is changed beside the length of the same corners, and back") {
    const std::string window = R"({ "format": "boardring-project-1", "title": "W", "units": "mm",
  "outline": { "line": "inside", "seen": "from the room", "basis": "found",
    "readings": [ "AB 903", "BC 1194", "CD 909", "DA 1201", "AC 1496", "BA fall 3", "BC bow 3 inward", "BC to DA 902", "B 90" ] },
  "boards": { "lie": "flat", "all": { "width": 70, "thickness": 18 } } })";
    const auto becomes = [&](const std::string& phrase, const std::string& from, const std::string& to) {
        CAPTURE(phrase);
        const ChangedProject changed = change_project(window, {phrase});
        for (const Finding& finding : changed.findings) UNSCOPED_INFO(finding.message);
        REQUIRE(changed.ok());
        CHECK(changed.text == replaced(window, from, to));
        const ChangedProject back = change_project(changed.text, changed.back);
        REQUIRE(back.ok());
        CHECK(back.text == window);
    };
    becomes("AB fall 5", "BA fall 3", "AB fall 5");
    becomes("AB fall is 5", "BA fall 3", "AB fall 5");
    becomes("BA is fall 4", "BA fall 3", "BA fall 4");
    becomes("AB rises 5", "BA fall 3", "AB rises 5");
    becomes("AB level", "BA fall 3", "AB level");
    becomes("BC bow 2 outward", "BC bow 3 inward", "BC bow 2 outward");
    becomes("BC to DA 899", "BC to DA 902", "BC to DA 899");
    becomes("BC right 4", "\"B 90\"", "\"B 90\", \"BC right 4\"");
    becomes("BC is 1200", "BC 1194", "BC 1200");
}

TEST_CASE("boards, joints, ends, stock, tools and wishes are changed in their places") {
    changes("board 4 is 30", R"("all": { "stock": "rail" } })", R"("all": { "stock": "rail" }, "4": { "thickness": 30 } })");
    changes("board 4 is 120 wide", R"("all": { "stock": "rail" } })", R"("all": { "stock": "rail" }, "4": { "width": 120 } })");
    changes("board 4 is slim", R"("all": { "stock": "rail" } })", R"("all": { "stock": "rail" }, "4": { "stock": "slim" } })");
    changes("boards are slim", R"("all": { "stock": "rail" })", R"("all": { "stock": "slim" })");
    changes("joint B butt, 2 through", R"("through": 3 } })", R"("through": 3 }, "B": { "kind": "butt", "through": 2 } })");
    changes("joint D mitre", R"({ "kind": "butt", "through": 3 })", R"({ "kind": "mitre" })");
    changes("joint D is a butt, board 4 runs through", R"("through": 3)", R"("through": 4)");
    changes("joints half-lap", R"("kind": "mitre")", R"("kind": "half-lap")");
    for (const char* const said : {"joints halved", "joints are half laps", "joints half-lapped", "all joints lap"})
        changes(said, R"("kind": "mitre")", R"("kind": "half-lap")");
    changes("joint D mitered", R"({ "kind": "butt", "through": 3 })", R"({ "kind": "mitre" })");
    changes("rail is 40 thick", R"("thickness": 38)", R"("thickness": 40)");
    changes("slim is 30 thick", R"("thickness": "28")", R"("thickness": 30)");
    changes("rail 2.4 m costs 9.85", R"("price": 9.60)", R"("price": 9.85)");
    changes("rail 2400 count 3", R"("price": 9.60 })", R"("price": 9.60, "count": 3 })");
    changes("rail also 3600 costs 15", R"("price": 9.60 } ])", R"("price": 9.60 }, { "length": 3600, "price": 15 } ])");
    changes("rail species is larch", R"("price": 9.60 } ] })", R"("price": 9.60 } ], "species": "larch" })");
    changes("saw stops at 46.5", R"("kerf": 3 })", R"("kerf": 3, "tilt_limit": 46.5 })");
    changes("kerf is 1/8 in", R"("kerf": 3)", R"("kerf": "1/8 in")");
    changes("two courses", R"("stock": "rail" } },)", R"("stock": "rail" }, "courses": 2 },)");
    changes("title is Bed by the \"fig\"", R"("Bed")", R"("Bed by the \"fig\"")");
    changes("boards lie flat", R"("on edge")", R"("flat")");
    changes("leave 6 long", "{ \"kerf\": 3 }\n", "{ \"kerf\": 3 },\n  \"wanted\": { \"leave_long\": 6 }\n");
    changes("fit 3 last", "{ \"kerf\": 3 }\n", "{ \"kerf\": 3 },\n  \"wanted\": { \"fit_last\": 3 }\n");
    changes("gap is 0.5", "{ \"kerf\": 3 }\n", "{ \"kerf\": 3 },\n  \"wanted\": { \"gap\": 0.5 }\n");
    changes("accuracy is garden", "{ \"kerf\": 3 }\n", "{ \"kerf\": 3 },\n  \"accuracy\": { \"preset\": \"garden\" }\n");
    changes("/tools/kerf is 2.5", R"("kerf": 3)", R"("kerf": 2.5)");
}

TEST_CASE("sizes of the other outlines are changed in the words of their form") {
    CHECK(outline_after(R"({ "line": "inside", "regular": { "corners": 6, "over_flats": 640 } })", "over the flats is 660") ==
          R"({ "line": "inside", "regular": { "corners": 6, "over_flats": 660 } })");
    CHECK(outline_after(R"({ "line": "inside", "regular": { "corners": 6, "over_flats": 640 } })", "side is 370") ==
          R"({ "line": "inside", "regular": { "corners": 6, "side": 370 } })");
    CHECK(outline_after(R"({ "line": "inside", "rectangle": { "length": 1200, "width": 600 } })", "BC is 2 ft") ==
          R"({ "line": "inside", "rectangle": { "length": 1200, "width": "2 ft" } })");
    CHECK(outline_after(R"({ "line": "inside", "points": [ [0, 0], [900, 0], [900, 700] ] })", "C is at 880, 690") ==
          R"({ "line": "inside", "points": [ [0, 0], [900, 0], [880, 690] ] })");
    CHECK(outline_after(R"({ "line": "inside", "rectangle": { "length": 1200, "width": 600 } })", "line is outside") ==
          R"({ "line": "outside", "rectangle": { "length": 1200, "width": 600 } })");
    CHECK(outline_after(R"({ "line": "inside", "margin": 6, "rectangle": { "length": 1200, "width": 600 } })", "margin of board 3 is 0") ==
          R"({ "line": "inside", "margin": { "all": 6, "3": 0 }, "rectangle": { "length": 1200, "width": 600 } })");
}

TEST_CASE("what stands in the file can be left out, and a mistyped key be put right") {
    const ChangedProject out = change_project(kBed, {"leave out joint D", "leave out EA"});
    REQUIRE_FALSE(out.ok());  // a ring needs every side
    CHECK(out.findings.front().code == "reading.missing");
    CHECK(change_project(kBed, {"leave out joint D"}).text == replaced(kBed, R"(, "d": { "kind": "butt", "through": 3 })", ""));
    const std::string slip = replaced(kBed, "\"kerf\"", "\"kref\"");
    CHECK(change_project(slip, {"kref means kerf"}).text == kBed);
}

TEST_CASE("an angle noted outside the ring says which side a new one is meant") {
    const std::string inward = replaced(kBed, "\"C 103\"", "\"C 90 inward\"");
    CHECK(refusal(inward, "C is 100").code == "change.not-understood");
    CHECK(change_project(inward, {"C is 100 outward"}).text == replaced(kBed, "\"C 103\"", "\"C 100\""));
    CHECK(change_project(inward, {"C is 100 inward"}).text == replaced(kBed, "\"C 103\"", "\"C 100 inward\""));
    CHECK(change_project(inward, {"C is 260"}).text == replaced(kBed, "\"C 103\"", "\"C 260\""));
    CHECK(change_project(inward, change_project(inward, {"C is 260"}).back).ok());
}

TEST_CASE("what is not understood is named with the nearest word, and nothing is changed") {
    CHECK_THAT(refusal(kBed, "kerv is 2").fix, ContainsSubstring("Did you mean \"kerf\"?"));
    CHECK_THAT(refusal(kBed, "boadr 4 is 30").fix, ContainsSubstring("Did you mean \"board\"?"));
    CHECK_THAT(refusal(kBed, "board 4 is slimm").fix, ContainsSubstring("Did you mean \"slim\"?"));
    CHECK_THAT(refusal(kBed, "joint B but").fix, ContainsSubstring("Did you mean \"butt\"?"));
    CHECK_THAT(refusal(kBed, "accuracy is gardn").fix, ContainsSubstring("Did you mean \"garden\"?"));
    CHECK(refusal(kBed, "units are in").code == "change.units");
    CHECK(refusal(kBed, "over flats is 660").code == "change.no-such");
    CHECK(refusal(kBed, "leave out margin").code == "change.no-such");
    CHECK(refusal(kBed, "rail 1800 costs 5").code == "change.no-such");
    CHECK(refusal(kBed, "AB is 1,200").code == "length.ambiguous");
    CHECK(refusal(kBed, "kerf is 1,2").code == "length.ambiguous");
    CHECK(refusal(kBed, "board 9 is 30").code == "board.no-such-board");
    for (const char* const nothing : {"", " ", "C", "C is", "board", "board 4", "joint", "joint B", "end", "margin", "saw stops", "title", "leave out", "/", "/tools",
                                      "x means", "means", "fit last", "\x1b[31m", "C is \xE2\x80\xAE" "97", "\xff", "set", "make the"}) {
        const Finding finding = refusal(kBed, nothing);
        CHECK(finding.severity == Severity::error);
        CHECK(finding.message.find('\x1b') == std::string::npos);
    }
    CHECK(refusal(kBed, std::string(1'000'000, 'x')).message.size() < 200);
    CHECK(refusal("no JSON", "C is 97").code == "file.not-json");
}

TEST_CASE("several changes are made together or not at all") {
    const ChangedProject both = change_project(kBed, {"C is 98", "kerf is 2", "C is 98"});
    REQUIRE(both.ok());
    CHECK(both.text == replaced(replaced(kBed, "\"C 103\"", "\"C 98\""), "\"kerf\": 3", "\"kerf\": 2"));
    REQUIRE(both.lines.size() == 3);
    CHECK(both.lines[0].line == 8);
    CHECK(both.lines[0].before == std::vector<std::string>{R"(    "A 106", "B 112", "C 103", "D 117", "E 107"   // C looks odd)"});
    CHECK(both.lines[1].line == 16);
    CHECK(both.lines[2].before.empty());
    CHECK(both.lines[2].after.empty());
    CHECK(change_project(both.text, both.back).text == kBed);
    const ChangedProject one_wrong = change_project(kBed, {"C is 98", "kerv is 2"});
    CHECK(one_wrong.text == kBed);
    CHECK(one_wrong.lines.empty());
}

TEST_CASE("a file with faults may keep them while one is mended, and gets no new ones") {
    const std::string two_slips = replaced(replaced(kBed, "\"kerf\"", "\"kref\""), "\"title\"", "\"tilte\"");
    CHECK(change_project(two_slips, {"kref means kerf"}).ok());
    CHECK_FALSE(change_project(two_slips, {"courses is 0"}).ok());
}

TEST_CASE("stock of a price list beside the project can be spoken of") {
    const std::string text = replaced(kBed, "\"boards\":", "\"stock_file\": \"yard.json\", \"boards\":");
    const ReadBeside yard = [](const std::string& name) -> BesideText {
        if (name != "yard.json") return {std::nullopt, "there is no such file"};
        return {R"({ "format": "boardring-stock-1", "units": "mm", "stock": { "plank": { "width": 145, "thickness": 32 } } })", ""};
    };
    const ChangedProject changed = change_project(text, {"board 2 is plank"}, yard);
    for (const Finding& finding : changed.findings) UNSCOPED_INFO(finding.message);
    REQUIRE(changed.ok());
    CHECK_THAT(changed.text, ContainsSubstring("\"2\": { \"stock\": \"plank\" }"));
    CHECK(change_project(changed.text, changed.back, yard).text == text);
    // A fault of the list is no fault of the change; a name that stands nowhere is.
    CHECK(change_project(text, {"kerf is 2"}, yard).ok());
    const ChangedProject unknown = change_project(text, {"board 2 is plnak"}, yard);
    REQUIRE_FALSE(unknown.ok());
    CHECK_THAT(unknown.findings.front().fix, ContainsSubstring("Did you mean \"plank\"?"));
}

TEST_CASE("a board that tapers is given by its two ends") {
    changes("board 2 is 38 to 36.6", "\"boards\": { \"lie\": \"on edge\", \"all\": { \"stock\": \"rail\" } }",
            "\"boards\": { \"lie\": \"on edge\", \"all\": { \"stock\": \"rail\" }, \"2\": { \"thickness\": [38, 36.6] } }");
    CHECK_FALSE(change_project(kBed, {"board 2 is 38 to"}).ok());
    CHECK_FALSE(change_project(kBed, {"board 2 is 38 to thin"}).ok());
}
