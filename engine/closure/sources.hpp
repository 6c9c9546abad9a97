#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "closure/made_board.hpp"
#include "frame/frame.hpp"
#include "project/project.hpp"

namespace boardring {

/// Where an error comes from. One of these may strike many ends, each on its own, or several ends alike.
enum class ErrorKind {
    mark,       ///< each pencil mark on its own, mm
    cut,        ///< each cut's slope on its own, deg
    setting,    ///< the bevel as set from its base: the same way at all cuts of one setting, mm of rise
    scale,      ///< the saw's scale: all cuts steeper or all less, deg
    stop,       ///< the length stop as set: alike at all boards of one length, mm
    length,     ///< each board against the stop on its own, mm
    rule,       ///< the rule itself: all lengths alike, mm per m
    thickness,  ///< each board's width in the joint, mm
};

/// One source with its standard deviation, in the unit of its kind.
struct ErrorSource {
    ErrorKind kind = ErrorKind::mark;
    double sd = 0.0;
    std::size_t inputs = 0;  ///< how many independent errors it makes on this ring
};

/// By how much an end or a board is made otherwise than meant.
struct EndDeviation {
    double shift_mm = 0.0;   ///< the long point, + along x
    double run_mm = 0.0;     ///< longer run by its own marks (slopes by marks only)
    double slope_rad = 0.0;  ///< added to the slope S, with its sign
};
struct BoardDeviation {
    std::array<EndDeviation, 2> ends;
    double width_mm = 0.0;
};

/// "each cut's slope": in a maker's words, for sentences.
std::string source_words(ErrorKind kind);

/// What one standard deviation of one independent error does to one end (or, as `width`, to a board).
struct ErrorEffect {
    enum class On { shift, run, slope, width };
    std::size_t board = 0;
    std::size_t end = 0;
    On on = On::shift;
    double per_sd = 0.0;  ///< mm or rad
};

struct ErrorInput {
    std::size_t source = 0;  ///< index into ErrorModel::sources
    std::vector<ErrorEffect> effects;
};

/// All that can go wrong when the boards are made one way, and the boards as that way means them.
struct ErrorModel {
    SlopeBy way = SlopeBy::bevel;
    std::vector<MadeBoard> base;  ///< to the steps of rule, bevel or saw
    std::vector<ErrorSource> sources;
    std::vector<ErrorInput> inputs;
};

/// \param base  one for each board: how they are meant to be made
///
/// marks  four marks a board (shoulders instead of ends at half-laps), rule, thickness
/// bevel  one mark a long point, each cut, the bevel's setting over its base by two marks, rule, thickness
/// saw    each cut, the scale, the stop for each length, each board against it, rule, thickness
///
/// Square cuts know neither setting nor sign of the bevel: a square is taken as true. With the saw they count with the others,
/// + = outside longer. Sources whose standard deviation is 0 are left out.
/// Source  presets: common practice; a slope from two marks b apart is out by e cos^2 S / b (docs/theory/last_joint.md)
ErrorModel error_model(const Project& project, const Frame& frame, SlopeBy way, std::vector<MadeBoard> base);

/// The boards as `way` means them: to the rule by all marks, or slopes as set and long points to the rule.
/// \param nudges  numbers that go beside their nearest steps (closure/rounding); empty: none
std::vector<MadeBoard> boards_as_meant(const Project& project, const Frame& frame, SlopeBy way,
                                       const std::vector<BoardNudges>& nudges = {});

/// A board with its deviations, exactly: slopes by marks follow run and width, others keep their angle. A board grows outwards.
/// Slopes end where their cosine is under kLeastCosine: nothing is sawn like that.
MadeBoard deviated(const MadeBoard& base, const BoardDeviation& by, SlopeBy way);
inline constexpr double kLeastCosine = 0.02;

/// Deviations of all boards for given independent errors, in standard deviations.
std::vector<BoardDeviation> deviations_of(const ErrorModel& model, const std::vector<double>& errors);

/// All boards with these errors, exactly.
std::vector<MadeBoard> boards_with(const ErrorModel& model, const std::vector<double>& errors);

}  // namespace boardring
