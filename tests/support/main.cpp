// The one file that holds Catch2's main for version 2; version 3 brings its own in a library.
#if __has_include(<catch2/catch_test_macros.hpp>)
#else
#define CATCH_CONFIG_MAIN
#include <catch2/catch.hpp>
#endif
