#pragma once
#include <stdexcept>

namespace boardring {

/// A broken invariant: our bug, never the maker's input. Caught once, in cli/main.cpp.
class BrokenInvariant : public std::logic_error {
public:
    using std::logic_error::logic_error;
};

}  // namespace boardring

#define BOARDRING_TEXT_(x) #x
#define BOARDRING_TEXT(x) BOARDRING_TEXT_(x)

/// States what must hold if our own code is right. Stays on in release builds: a wrong mark costs wood.
#define ENSURE(condition)                                                                           \
    do {                                                                                            \
        if (!(condition)) {                                                                         \
            throw ::boardring::BrokenInvariant(__FILE__ ":" BOARDRING_TEXT(__LINE__) ": " #condition); \
        }                                                                                           \
    } while (false)
