#include <algorithm>
#include <string>

#include "project/joint_kinds.hpp"
#include "spoken/change.hpp"
#include "spoken/sentence.hpp"
#include "spoken/word_table.hpp"
#include "support/catch.hpp"

using namespace boardring;

TEST_CASE("every kind of joint can be said by its word, of all corners, of one, and as a change", "[unit][spoken]") {
    for (const JointKind kind : kJointKinds) {
        const std::string word(joint_word(kind));
        INFO(word << ": give it a row in engine/spoken/word_table.cpp whose sense listen_rest.cpp knows");
        const PhrasesHeard all = hear_phrases(word);
        CHECK(all.findings.empty());
        CHECK(all.draft.joints.kind == kind);
        const PhrasesHeard one = hear_phrases("corner B " + word);
        CHECK(one.findings.empty());
        REQUIRE(one.draft.corner_joints.contains("B"));
        CHECK(one.draft.corner_joints.at("B").kind == kind);
        const ChangedProject changed = change_project(read_sentence("hexagon 640 inside flats, 145x38 on edge").project_text, {"joints " + word});
        CHECK(changed.ok());
        CHECK(changed.text.find("\"kind\": \"" + word + "\"") != std::string::npos);
    }
}
