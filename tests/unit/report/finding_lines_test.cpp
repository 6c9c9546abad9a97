#include "report/finding_lines.hpp"

#include <string>

#include "report/command_text.hpp"
#include "report/wording.hpp"
#include "support/catch.hpp"

using namespace boardring;

namespace {

const PageOptions kBed{"bed", "bed.json", false};

Finding angle_sum() {
    return {Severity::error,
            "outline.angle-sum",
            "/outline/readings/7",
            "Five corners must add up to 540. Yours add up to 545: 5 too much.\n     A 108    B 115    C 102    D 122    E 98",
            "Measure C again.",
            12,
            5};
}

std::size_t count(const std::string& text, const std::string& what) {
    std::size_t n = 0;
    for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + what.size())) ++n;
    return n;
}

}  // namespace

TEST_CASE("a ring that does not close is refused in the first words") {
    const std::string page = refusal_page({angle_sum()}, kBed);
    CHECK(page.rfind("DOES NOT CLOSE. Nothing has been worked out yet; please do not buy or cut.\n", 0) == 0);
    CHECK_THAT(page, ContainsSubstring("\n     A 108    B 115    C 102    D 122    E 98\n"));
    CHECK_THAT(page, ContainsSubstring("Measure C again.   (bed.json line 12)   more: boardring explain outline.angle-sum\n"));
    CHECK_THAT(page, ContainsSubstring("NEXT       boardring check bed   (when it is put right)\n"));
}

TEST_CASE("errors of any other kind are numbered and told together") {
    const Finding key{Severity::error, "key.unknown", "/boards/al", "\"al\" is no key here", "write \"all\"", 3, 9};
    const Finding note{Severity::note, "stock.nominal", "/stock/a", "a 2x6 is 1-1/2 by 5-1/2", "", 0, 0};
    const std::string page = refusal_page({key, note, key}, kBed);
    CHECK(page.rfind("CANNOT BE PLANNED YET.", 0) == 0);
    CHECK_THAT(page, ContainsSubstring("\n1  \"al\" is no key here.\n"));
    CHECK_THAT(page, ContainsSubstring("\n2  \"al\" is no key here.\n"));
    CHECK_THAT(page, ContainsSubstring("Write \"all\".   (bed.json line 3)   more: boardring explain key.unknown\n"));
    CHECK_THAT(page, ContainsSubstring("(when these are put right)"));
    CHECK_THAT(page, ContainsSubstring(
                         "NOTE       A 2x6 is 1-1/2 by 5-1/2.   (bed.json, /stock/a)   more: boardring explain stock.nominal\n"));
}

TEST_CASE("findings say how much they matter and where they stand") {
    Finding warning{Severity::warning, "joint.undercut", "", "the mitre leans the wrong way", "butt it", 0, 0};
    CHECK(findings_text({}, kBed) == "");
    CHECK(
        findings_text({warning}, kBed) ==
        "WARNING    The mitre leans the wrong way.\n           Butt it.   (bed.json)   more: boardring explain joint.undercut\n");
    CHECK(findings_text({warning}, {}) ==
          "WARNING    The mitre leans the wrong way.\n           Butt it.   more: boardring explain joint.undercut\n");
    warning.severity = Severity::caution;
    CHECK(findings_text({warning}, {}).rfind("CAUTION    ", 0) == 0);
}

TEST_CASE("a certain mend is given as the command that makes it, ready to paste") {
    Finding finding = angle_sum();
    finding.changes = {"C is 97"};
    CHECK_THAT(refusal_page({finding}, kBed),
               ContainsSubstring("\nMeasure C again.\nboardring change bed \"C is 97\"\n(bed.json line 12)   more: "));
    finding.changes = {"A inward", "title is 3\" board"};
    CHECK_THAT(refusal_page({finding}, {"my bed", "my bed.json", false}),
               ContainsSubstring("boardring change \"my bed\" \"A inward\" 'title is 3\" board'\n"));
    finding.changes = std::vector<std::string>(12, "A is 120");
    CHECK_THAT(refusal_page({finding}, kBed), ContainsSubstring("\"A is 120\" \\\n  \"A is 120\""));
    CHECK(refusal_page({finding}, {}).find("boardring change") == std::string::npos);
}

TEST_CASE("a word of a command comes through a shell as it is") {
    CHECK(shell_word("planter") == "planter");
    CHECK(shell_word("../my-beds/b_1.json") == "../my-beds/b_1.json");
    CHECK(shell_word("my bed") == "\"my bed\"");
    CHECK(shell_word("") == "\"\"");
    CHECK(shell_word("it's") == "\"it's\"");
    CHECK(shell_word("$HOME") == "'$HOME'");
    CHECK(shell_word("a\"b's") == "'a\"b'\\''s'");
}

TEST_CASE("a long list of findings is cut and says how many are left") {
    const Findings many(25, angle_sum());
    CHECK_THAT(findings_text(many, kBed), ContainsSubstring("and 5 more.\n"));
    const std::string page = refusal_page(many, kBed);
    CHECK(count(page, "more: boardring explain") == 20);
    CHECK_THAT(page, ContainsSubstring("and 5 more.\n"));
}

TEST_CASE("no finding can write outside its columns or move the cursor") {
    Finding hostile = angle_sum();
    hostile.message = std::string(300, 'x') + " \x1b[2J \xE2\x80\xAE" + std::string(120, 'y');
    hostile.pointer = std::string(500, '/');
    hostile.line = 0;
    const std::string page =
        refusal_page({hostile}, {"p\x1b[31m", "f\n.json", false}) + findings_text({hostile}, PageOptions{"", std::string(300, 'f'), false});
    CHECK(page.find('\x1b') == std::string::npos);
    CHECK(page.find("\xE2\x80\xAE") == std::string::npos);
    std::size_t start = 0;
    for (std::size_t end = page.find('\n'); end != std::string::npos; end = page.find('\n', start)) {
        CHECK(columns_of(page.substr(start, end - start)) <= kPageColumns);
        start = end + 1;
    }
}
