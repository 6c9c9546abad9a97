#pragma once
#include "closure/budget.hpp"
#include "closure/trials.hpp"

namespace boardring {

/// Very many builds of one ring, each walked and drawn in.
struct Simulation {
    std::size_t runs = 0;
    bool still = false;             ///< the numbers stand still (or the runs were asked for)
    std::uint64_t seed = 0;
    TrialResult widest;             ///< widest opening of the drawn-in ring, mm
    TrialResult stiff;              ///< larger of |inner gap|, |outer gap| at the last joint, all others held tight, mm
    double within = 0.0;            ///< share of the builds with no opening over the wanted gap
    double within_error = 0.0;      ///< its own standard error
};

/// One ring prepared for builds in packs of eight. The stiff chain is exact. The drawn-in ring closes exactly (kPackCloses); how its
/// openings are shared out follows the directions of the joints where the plan has them, which is first order in opening / width:
/// builds that open more than kPackOpens of a face, and those that do not settle, are drawn in by draw_in itself.
///
/// Accuracy  stiff 1e-9 of the perimeter; widest against draw_in 2 % of itself at slopes out by 0.1 deg, 6 % at 0.5 [last_joint_test]
/// Cost      bench_last_joint: stiff under 3 times, both under 10 times the drawing of their normal numbers, six boards
class RingPack {
public:
    /// \param frame   closed; must outlive this
    /// \param errors  of the same frame; must outlive this
    RingPack(const Frame& frame, const RingErrors& errors, std::size_t last_corner);

    /// \param inputs  one for each independent error, standard deviation 1
    /// \return |gap| at the last joint, the larger of inside and outside
    Lanes stiff(const Lanes* inputs);
    /// \return widest opening; after stiff() of the same inputs
    Lanes widest(const Lanes* inputs);

private:
    struct EndPlan {
        bool outside = false;  // the long point is the outside mark
        double long_mm = 0.0, run_mm = 0.0, width_mm = 0.0, inside_y = 0.0, outside_y = 0.0, towards = 0.0;
        double cosine = 1.0, sine = 0.0;
        Vec2 lap_e;
    };
    struct Face {
        LanesVec inner, outer, e;
        Lanes face;
    };
    struct Step {
        std::size_t input = 0, to = 0;
        double per_sd = 0.0;
    };
    struct JointFaces {
        Face own, other;
        bool held_outside = false;  // as JointContact's
    };

    void gather(const Lanes* inputs);
    void make_faces();
    Face sawn(std::size_t board, std::size_t end) const;
    Face lapped(std::size_t board, std::size_t end, const Joint& joint) const;
    Face edge(const Face& end, bool convex, std::size_t e, const Lanes& face) const;
    void slope_of(std::size_t board, std::size_t end, Lanes& cosine, Lanes& sine) const;
    double one_by_one(const Lanes* inputs, std::size_t lane) const;

    const Frame& frame_;
    const RingErrors& errors_;
    std::size_t last_ = 0;
    double perimeter_mm_ = 0.0;
    double least_face_mm_ = 0.0;
    std::vector<std::array<EndPlan, 2>> ends_;
    std::vector<Step> steps_;
    std::vector<Lanes> moved_;  // board k: 7 k + {shift, run, slope} of end 0, of end 1, width
    std::vector<JointFaces> faces_;
    std::vector<OpeningLanes::Opened> opened_;
};

/// A pack closes its rings to this part of the perimeter.
inline constexpr double kPackCloses = 1e-7;
/// Builds whose joints open more than this part of the narrowest face are drawn in one by one.
inline constexpr double kPackOpens = 0.05;

/// \param options  runs, seed, threads, progress; the answer depends on runs and seed only
Simulation simulate(const Frame& frame, const RingErrors& errors, std::size_t last_corner, double wanted_mm,
                    const TrialOptions& options);

}  // namespace boardring
