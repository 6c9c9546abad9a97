#pragma once
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>

#include "base/vec2.hpp"
#include "frame/frame.hpp"
#include "support/catch.hpp"
#include "support/random_frame.hpp"

namespace boardring_test {

/// Where the seeds of the random frames begin.
inline constexpr std::uint64_t kFirstSeed = 0x0b0a2d0000000000ULL;

/// A frame that could be built, and what was asked.
struct Built {
    FrameCase asked;
    boardring::Frame frame;
    std::uint64_t seed = 0;
};

/// The frame of this seed, its boards halved in width until it can be built. Some cannot: unequal boards at a corner that turns
/// by a thousandth of a degree.
inline std::optional<Built> built(std::uint64_t seed) {
    constexpr int kMostSlimmer = 8;
    for (int slimmer = 0; slimmer <= kMostSlimmer; ++slimmer) {
        FrameCase asked = random_frame_case(seed, slimmer);
        boardring::Result<boardring::Frame> result = boardring::build_frame(asked.project, asked.outline);
        if (result.ok()) return Built{std::move(asked), std::move(result).value(), seed};
    }
    return std::nullopt;
}

/// The worst of many errors as a share of what is allowed, and the frame it came from. An error that is not a number is the worst.
struct Worst {
    double share = 0.0;
    std::uint64_t seed = 0;
    std::size_t seen = 0;
    void see(double error, double allowed, std::uint64_t from) {
        ++seen;
        const double now = error / allowed;
        if (now <= share) return;
        share = now;
        seed = from;
    }
    void must(bool holds, std::uint64_t from) { see(holds ? 0.0 : 2.0, 1.0, from); }
};

/// How far from the origin the outline reaches, along either axis.
inline double largest_coordinate(const boardring::Outline& outline) {
    double most = 0.0;
    for (const boardring::Vec2& p : outline.corners_mm) most = std::max({most, std::abs(p.x), std::abs(p.y)});
    return most;
}

inline void check_worst(const char* what, const Worst& worst) {
    INFO(what << ": worst " << worst.share << " of what is allowed, seed " << worst.seed << ", " << worst.seen << " seen");
    CHECK(worst.seen > 0);
    CHECK(worst.share <= 1.0);
}

}  // namespace boardring_test
