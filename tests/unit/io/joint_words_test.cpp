// The words of joint kinds stand in two published schemas, which no compiler reads.
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>
#include <string>

#include "project/joint_kinds.hpp"
#include "support/catch.hpp"
#include "support/source_folder.hpp"

using namespace boardring;
using Json = nlohmann::json;

namespace {

using Words = std::set<std::string>;

// Every "enum" that holds the word of a mitre, and where it stands.
void walk(const Json& json, const std::string& at, std::vector<std::pair<std::string, Words>>& found) {
    if (json.is_object() && json.contains("enum")) {
        Words words;
        for (const Json& word : json["enum"]) {
            if (word.is_string()) words.insert(word.get<std::string>());
        }
        if (words.contains("mitre")) found.emplace_back(at, words);
    }
    if (!json.is_structured()) return;
    for (const auto& [key, value] : json.items()) walk(value, at + "/" + key, found);
}

}  // namespace

TEST_CASE("both schemas list every kind of joint; through is for butts alone", "[unit][io]") {
    const Words all(kJointWords.begin(), kJointWords.end());
    Words others = all;
    others.erase("butt");
    for (const auto& [name, lists] : {std::pair("boardring-project-1.schema.json", 4U), std::pair("boardring-plan-1.schema.json", 1U)}) {
        std::vector<std::pair<std::string, Words>> found;
        std::ifstream file(source_folder() / "schemas" / name);
        walk(Json::parse(file), "", found);
        CHECK(found.size() == lists);
        for (const auto& [at, words] : found) {
            INFO("schemas/" << name << " " << at << ": write the words of engine/project/joint_kinds.hpp here"
                            << (at.ends_with("/if/properties/kind") ? ", all but the butt's" : ""));
            CHECK(words == (at.ends_with("/if/properties/kind") ? others : all));
        }
    }
}
