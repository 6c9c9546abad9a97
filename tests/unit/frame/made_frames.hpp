#pragma once
#include <algorithm>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

#include "frame/frame.hpp"
#include "support/catch.hpp"
#include "support/ring.hpp"

namespace boardring_test {

inline const std::vector<boardring::Vec2> kRectangle = {{0.0, 0.0}, {900.0, 0.0}, {900.0, 600.0}, {0.0, 600.0}};
/// An L: the inward corner is D (500, 400).
inline const std::vector<boardring::Vec2> kEll = {{0.0, 0.0}, {900.0, 0.0}, {900.0, 400.0}, {500.0, 400.0}, {500.0, 900.0}, {0.0, 900.0}};

/// The frame, which must be one.
inline boardring::Frame frame_of(const boardring::Project& project, const boardring::Outline& outline) {
    boardring::Result<boardring::Frame> made = boardring::build_frame(project, outline);
    for (const boardring::Finding& finding : made.findings()) INFO(finding.code << ": " << finding.message);
    REQUIRE(made.ok());
    return std::move(made).value();
}

inline boardring::Findings findings_of(const boardring::Project& project, const boardring::Outline& outline) {
    return boardring::build_frame(project, outline).findings();
}

inline boardring::Findings with_code(const boardring::Findings& findings, const std::string& code) {
    boardring::Findings found;
    std::copy_if(findings.begin(), findings.end(), std::back_inserter(found), [&](const boardring::Finding& f) { return f.code == code; });
    return found;
}

}  // namespace boardring_test
