#include "base/pointer.hpp"

#include "support/catch.hpp"

using namespace boardring;

TEST_CASE("a step of a pointer keeps slashes and tildes of the key apart from its own", "[unit][base]") {
    CHECK(pointer_step("rail") == "/rail");
    CHECK(pointer_step("") == "/");
    CHECK(pointer_step("2/6") == "/2~16");
    CHECK(pointer_step("~1") == "/~01");
    CHECK(pointer_step(std::size_t{12}) == "/12");
}
