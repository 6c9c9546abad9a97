#include "stock/best_sequence.hpp"

#include <limits>
#include <optional>
#include <utility>

namespace boardring {
namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();
constexpr double kSameMm = 1e-9;  // two ways of adding up one length

/// Pieces one after another, each where and as it costs least.
Sequence by_insertion(const Strip& strip, const std::vector<StripPiece>& kinds, const Counts& counts) {
    Sequence built;
    for (std::size_t k = 0; k < kinds.size(); ++k) {
        for (int copy = 0; copy < counts[k]; ++copy) {
            double best = kNever;
            std::size_t best_at = 0;
            Turning best_turning = Turning::as_first;
            std::vector<PlacedPiece> tried = built.pieces;
            for (std::size_t at = 0; at <= built.pieces.size(); ++at) {
                tried.insert(tried.begin() + static_cast<std::ptrdiff_t>(at), {k, Turning::as_first});
                for (const Turning turning : strip.turnings) {
                    tried[at].turning = turning;
                    const double length = used_mm(strip, kinds, tried);
                    if (length >= best) continue;
                    best = length;
                    best_at = at;
                    best_turning = turning;
                }
                tried.erase(tried.begin() + static_cast<std::ptrdiff_t>(at));
            }
            built.pieces.insert(built.pieces.begin() + static_cast<std::ptrdiff_t>(best_at), {k, best_turning});
            built.used_mm = best;
        }
    }
    return built;
}

bool all_square(const std::vector<StripPiece>& kinds, const Counts& counts) {
    for (std::size_t k = 0; k < kinds.size(); ++k) {
        if (counts[k] > 0 && (kinds[k].left_run_mm != 0.0 || kinds[k].right_run_mm != 0.0)) return false;
    }
    return true;
}

Sequence in_order(const EndLine& line, const Counts& counts) {
    Sequence sequence;
    for (std::size_t k = 0; k < counts.size(); ++k) {
        for (int copy = 0; copy < counts[k]; ++copy) sequence.pieces.push_back({k, Turning::as_first});
    }
    sequence.used_mm = used_mm(line.strip(), line.kinds(), sequence.pieces);
    return sequence;
}

bool few_enough(const Counts& counts, std::size_t most_sets) {
    double sets = 1.0;
    for (const int count : counts) sets *= count + 1.0;
    return sets <= static_cast<double>(most_sets);
}

}  // namespace

BestSequence best_sequence(const EndLine& line, const Counts& counts, std::size_t most_sets) {
    if (all_square(line.kinds(), counts)) return {in_order(line, counts), true};  // every order is as long as any other
    const double least = line.least_mm(counts);
    std::optional<Sequence> along = line.order(counts);
    if (along && along->used_mm <= least + kSameMm) return {std::move(*along), true};
    if (few_enough(counts, most_sets)) {
        const auto table = SequenceTable::build(line.strip(), line.kinds(), counts, kNever, most_sets);
        if (table) return {table->sequence(*table->find(counts)), true};
    }
    Sequence inserted = by_insertion(line.strip(), line.kinds(), counts);
    if (along && along->used_mm <= inserted.used_mm) inserted = std::move(*along);
    return {inserted, inserted.used_mm <= least + kSameMm};
}

BestSequence best_sequence(const Strip& strip, const std::vector<StripPiece>& kinds, const Counts& counts) {
    return best_sequence(EndLine(strip, kinds), counts);
}

Fit fits_in(const EndLine& line, const Counts& counts, double usable_mm, std::size_t most_sets) {
    const double enough = usable_mm + kFitMm;
    if (line.least_mm(counts) > enough) return {Fit::Answer::too_long, 0};
    if (all_square(line.kinds(), counts)) {
        return {in_order(line, counts).used_mm <= enough ? Fit::Answer::fits : Fit::Answer::too_long, 0};
    }
    const std::optional<Sequence> along = line.order(counts);
    if (along && along->used_mm <= enough) return {Fit::Answer::fits, 0};
    if (by_insertion(line.strip(), line.kinds(), counts).used_mm <= enough) return {Fit::Answer::fits, 0};
    if (!few_enough(counts, most_sets)) return {Fit::Answer::unsure, 0};
    const auto table = SequenceTable::build(line.strip(), line.kinds(), counts, usable_mm, most_sets);
    if (!table) return {Fit::Answer::unsure, most_sets};
    return {table->find(counts) ? Fit::Answer::fits : Fit::Answer::too_long, table->size()};
}

}  // namespace boardring
