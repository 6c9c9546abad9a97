#pragma once
#include <cstddef>
#include <vector>

#include "base/result.hpp"
#include "outline/missing.hpp"
#include "outline/notebook.hpp"
#include "outline/outline.hpp"
#include "project/project.hpp"

namespace boardring {

/// A notebook whose open values have been worked out.
struct FilledNotebook {
    Notebook book;  ///< `within` of the open values is so wide that they take up what the rest leaves over
    FilledChain taken;
    std::vector<FilledChain> others;  ///< ways that can be built as well
    enum class Why { only, asked, diagonal, fewer_inward, larger } why = Why::only;
};

/// Works out the open values. Of two ways the one that is taken is, in this order: one that can be built at all; the one nearest
/// to what stands behind `near` (or `inward`); the one that fits the diagonals of the notebook better; the one with fewer inward
/// corners; the larger one.
/// Errors    outline.unknown-parallel, outline.out-of-reach, outline.unknown-impossible
Result<FilledNotebook> fill_notebook(const Notebook& book, const Project& project);

/// How far the digits of the rest leave an open value [mm or deg], roughly: for checks that hang on it.
void settle_within(Notebook& book, const FilledChain& taken);

/// What was worked out: note `outline.filled-in`; note or (where nothing in the notebook decides) warning `outline.two-answers`;
/// warning `outline.unknown-vague`.
Findings filled_findings(const FilledNotebook& filled, const Project& project, const Outline& outline);

/// Error `outline.unknown-misfit`: open values that are over-determined by a rest that does not agree.
Finding unknown_misfit_finding(const Notebook& book, const Project& project, const Misclosure& miss);

}  // namespace boardring
