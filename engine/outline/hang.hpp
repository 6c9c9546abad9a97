#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "base/finding.hpp"
#include "base/vec2.hpp"
#include "outline/way_up.hpp"
#include "project/project.hpp"

namespace boardring {

class FitCovariance;
struct Outline;

/// One side of an opening against the frame that hangs true on it.
struct HungSide {
    enum class Lies { level, plumb, as_found } lies = Lies::as_found;
    double out_mm = 0.0;  ///< how much more margin its second end gets than its first
    double bow_mm = 0.0;  ///< of the opening at its middle, + outward
    /// Margin of the true frame at its first end, its middle and its second end: from the opening outward to the frame's line.
    std::array<double, 3> margin_mm{};
};

/// A frame on a crooked opening, both ways: along the opening as found with an even margin, or true, the margin taking it up.
///
/// True is: every side that lies within 5 degrees of level or plumb becomes so; others keep the slope they were found with (as do
/// two neighbours that would run on in one line). Level is the level that was read; without such a reading AB is taken as level.
///
/// Sought are the places c of the frame's lines, so that the margin c - s lies between the least and the most at both ends
/// and at the middle of every side (s: how far out the opening stands there), and that the greatest departure from the margin
/// wanted is as small as it can be. That is a linear programme. With the directions fixed no two sides share an unknown, so its
/// answer is one interval a side, and exact: c = wanted + (least s + most s) / 2, kept within [least + most s, most + least s].
/// Where a side has no such c, the frame is square but not level: turned as a whole by a small angle, the margins are linear in it,
/// every side leaves an interval of angles, and the angle nearest to level that all allow is taken.
///
/// Laws      margins of the true frame, taped from its own lines, are those told; no other frame of these directions departs
///           less; an opening that is true already changes nothing; against the linear programme solved at its vertices [hang_test]
/// Source    docs/theory/hang.md
struct Hang {
    bool levelled = false;        ///< something was read against level
    WayUp way_up;                 ///< which side is at the bottom
    bool fits = false;            ///< true and within the margins
    bool taken = false;           ///< the outline is the true one
    double needs_mm = 0.0;        ///< widest range of margin that any side needs to hang true
    std::size_t needs_side = 0;
    std::optional<double> turned_deg;  ///< does not fit, but would if turned by this, + counter-clockwise as kept
    std::vector<HungSide> sides;       ///< of the true frame (level and plumb, whether it fits or not)
    /// How well those margins are known, standard deviations in the order of HungSide::margin_mm; empty beyond 200 sides.
    std::vector<std::array<double, 3>> margin_sd_mm;
    std::vector<Vec2> found_mm;        ///< corners of the opening as found
    std::vector<Vec2> true_mm;         ///< corners of the line from which the margins asked lead to the true frame
};

/// The true answer for an opening. `margin_mm`: wanted, one a side; `bow_mm`: of the opening, one a side.
Hang hang_true(const Outline& opening, const std::vector<double>& margin_mm, const std::vector<double>& bow_mm, double least_mm,
               double most_mm);

/// How far the margins one will find differ from those told, as standard deviations: the frame hangs level where it was planned, the
/// corners of the opening lie where the readings can put them, and frame and opening share their middle (the maker shares out what is
/// over). Of a corner n . (p - mean of all p) counts, n square to the side; the middle of a side has half of both ends and its bow.
/// \param bow_sd_mm  one a side, 0 where no bow was read
/// Laws      tapes drawn at random scatter the margins as told [hang_property_test]
std::vector<std::array<double, 3>> known_margins(const Outline& opening, const std::vector<double>& bow_mm, const std::vector<double>& bow_sd_mm,
                                                 const FitCovariance& covariance);

/// Answers the question for a found outline whose margin has a least and a most, and puts the true line in the place of the opening
/// where the project asks for it. Error `hang.margin-too-small`, warnings `hang.not-levelled`, `hang.way-up`.
Findings hang_outline(Outline& outline, const Project& project, bool levelled, const WayUp& way_up, const FitCovariance& covariance);

}  // namespace boardring
