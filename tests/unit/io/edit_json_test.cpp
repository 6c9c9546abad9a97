#include "io/edit_json.hpp"

#include <string>
#include <vector>

#include "support/catch.hpp"

using namespace boardring;

namespace {

void adds_and_undoes(const std::string& text, const std::string& pointer, const std::string& json, const std::string& wanted) {
    INFO(text);
    const JsonPath path = *json_path(pointer);
    const auto added = with_value(text, path, json);
    REQUIRE(added);
    CHECK(*added == wanted);
    CHECK(without_value(*added, path) == text);
}

}  // namespace

TEST_CASE("a value is replaced and every other byte stays") {
    const std::string text = "// mine\r\n{ \"a\" : 1.50 ,\r\n\t\"b\":[1,  2] /* two */ }\r\n";
    CHECK(with_value(text, {"a"}, "2") == "// mine\r\n{ \"a\" : 2 ,\r\n\t\"b\":[1,  2] /* two */ }\r\n");
    CHECK(with_value(text, {"b", "1"}, "9") == "// mine\r\n{ \"a\" : 1.50 ,\r\n\t\"b\":[1,  9] /* two */ }\r\n");
    CHECK(with_value(text, {"b"}, "[]") == "// mine\r\n{ \"a\" : 1.50 ,\r\n\t\"b\":[] /* two */ }\r\n");
}

TEST_CASE("a new member stands as its neighbours stand, and taking it out again gives the same bytes") {
    adds_and_undoes(R"({ "a": 1 })", "/b", "2", R"({ "a": 1, "b": 2 })");
    adds_and_undoes("{\n  \"a\": 1\n}\n", "/b", "2", "{\n  \"a\": 1,\n  \"b\": 2\n}\n");
    adds_and_undoes("{\r\n\t\"a\": 1\r\n}", "/b", "2", "{\r\n\t\"a\": 1,\r\n\t\"b\": 2\r\n}");
    adds_and_undoes("{\n  \"a\": 1 // note  \n}", "/b", "2", "{\n  \"a\": 1, // note\n  \"b\": 2  \n}");
    adds_and_undoes("{\n  \"a\": 1 /* x */ // y\n}", "/b", "2", "{\n  \"a\": 1, /* x */ // y\n  \"b\": 2\n}");
    adds_and_undoes("{\n  \"a\": 1   \n}", "/b", "2", "{\n  \"a\": 1,\n  \"b\": 2   \n}");
    adds_and_undoes(R"({})", "/b", "2", R"({"b": 2})");
    adds_and_undoes(R"({ })", "/b", "2", R"({ "b": 2 })");
    adds_and_undoes("{\n}", "/b", "2", "{\n  \"b\": 2\n}");
    adds_and_undoes("{ \"t\": {\n    // empty\n  } }", "/t/b", "2", "{ \"t\": {\n    \"b\": 2\n    // empty\n  } }");
}

TEST_CASE("objects missing on the way are made, items are added to lists") {
    CHECK(with_value(R"({ "a": 1 })", {"t", "k", "x"}, "2") == R"({ "a": 1, "t": { "k": { "x": 2 } } })");
    CHECK(with_value(R"({ "l": [1, 2] })", {"l", "-"}, "3") == R"({ "l": [1, 2, 3] })");
    CHECK(with_value("[\n  1\n]", {"-"}, "2") == "[\n  1,\n  2\n]");
    CHECK_FALSE(with_value(R"({ "a": 1 })", {"a", "b"}, "2"));
    CHECK_FALSE(with_value(R"({ "l": [1] })", {"l", "5"}, "2"));
    CHECK_FALSE(with_value("{ no JSON", {"a"}, "2"));
    CHECK_FALSE(with_value(R"({ "a": 1 })", {"b"}, "no JSON"));
}

TEST_CASE("taking out a member keeps the comments") {
    CHECK(without_value("{\n  \"a\": 1, // one\n  \"b\": 2 // two\n}", {"a"}) == "{\n  // one\n  \"b\": 2 // two\n}");
    CHECK(without_value("{\n  \"a\": 1, // one\n  \"b\": 2 // two\n}", {"b"}) == "{\n  \"a\": 1 // one // two\n}");
    // Without its line end the comment would swallow the bracket.
    CHECK(without_value("{ \"a\": 1, // one\n  \"b\": 2 }", {"b"}) == "{ \"a\": 1 // one\n   }");
    CHECK_FALSE(without_value(R"({ "a": 1 })", {"b"}));
    CHECK_FALSE(without_value(R"({ "a": 1 })", {}));
}

TEST_CASE("a key is renamed in its place") {
    CHECK(with_key("{ \"cor\\\"ses\" : 2 }", {"cor\"ses"}, "courses") == R"({ "courses" : 2 })");
    CHECK_FALSE(with_key(R"([1])", {"0"}, "a"));
}

TEST_CASE("pointers and ways are one the other") {
    for (const std::string pointer : {"", "/a", "/a/0/b~1c~0d", "/"}) CHECK(json_pointer(*json_path(pointer)) == pointer);
    CHECK_FALSE(json_path("a"));
    CHECK_FALSE(json_path("/a~2"));
    CHECK_FALSE(json_path("/a~"));
}
