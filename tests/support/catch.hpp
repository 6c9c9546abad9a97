#pragma once
// One header for Catch2 of Debian 12 (version 2) and version 3: tests include only this.
#if __has_include(<catch2/catch_test_macros.hpp>)
#include <catch2/catch_approx.hpp>
#include <catch2/catch_message.hpp>
#include <catch2/catch_test_macros.hpp>
#include <catch2/generators/catch_generators_all.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>
using Catch::Approx;
using Catch::Matchers::ContainsSubstring;
#else
#include <catch2/catch.hpp>
inline auto ContainsSubstring(const std::string& text) { return Catch::Matchers::Contains(text); }
#endif
using Catch::Matchers::WithinAbs;

/// Millimetres or degrees within an absolute bound; relative comparison near zero misleads.
inline auto within_mm(double expected, double bound) { return WithinAbs(expected, bound); }
inline auto within_deg(double expected, double bound) { return WithinAbs(expected, bound); }
