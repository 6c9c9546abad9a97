#include "closure/ways_in_halves.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

namespace boardring {
namespace {

constexpr std::size_t kAllKept = 12;        // so few choices that every way may be a candidate
constexpr std::size_t kRowBits = 4;         // choices of a joint
constexpr std::size_t kMostCrossings = 16;  // whose rows fit into a key
constexpr std::size_t kMostLists = 64;

bool is_in(const std::vector<std::size_t>& some, std::size_t choice) { return std::find(some.begin(), some.end(), choice) != some.end(); }

// Do these rules, of which every choice is among `indices`, allow it?
bool agrees(const std::vector<const JointRule*>& rules, const std::vector<std::size_t>& indices, std::uint32_t bits, Ways& ways) {
    for (std::size_t i = 0; i < indices.size(); ++i) ways[indices[i]] = static_cast<std::uint8_t>((bits >> i) & 1U);
    return std::all_of(rules.begin(), rules.end(), [&](const JointRule* rule) { return rule->allowed[row_of(*rule, ways)] != 0; });
}

}  // namespace

// What of the inner list goes with a part of the outer one: looked up once for all parts that say the same at the joints between.
class WaysInHalves::Matches {
public:
    Matches(const WaysInHalves& halves, const Ways& ways) : halves_(halves) {
        for (const Crossing& crossing : halves.crossings_) {
            std::size_t row = 0;
            for (std::size_t i = 0; i < crossing.rule->choices.size(); ++i) {
                const std::size_t choice = crossing.rule->choices[i];
                if (!halves.holds(choice)) row |= static_cast<std::size_t>(ways[choice]) << i;
            }
            others_.push_back(row);
        }
    }

    /// Null where none does.
    const std::vector<Part>* of(std::size_t outer) {
        std::uint64_t key = 0;
        bool any = false;
        for (std::size_t x = 0; x < halves_.crossings_.size(); ++x) {
            const Crossing& crossing = halves_.crossings_[x];
            if (!crossing.in_high) {
                if (crossing.rule->allowed[others_[x] | crossing.outer_rows[outer]] == 0) return nullptr;
                continue;
            }
            any = true;
            key = key << kRowBits | crossing.outer_rows[outer];
        }
        if (!any) return &halves_.inner_;
        const auto found = lists_.find(key);
        if (found != lists_.end()) return found->second.empty() ? nullptr : &found->second;
        // Too many kinds to list: a way is refused where it is offered.
        if (lists_.size() == kMostLists) return &halves_.inner_;
        std::vector<Part>& list = lists_[key];
        for (std::size_t i = 0; i < halves_.inner_.size(); ++i) {
            bool allowed = true;
            for (std::size_t x = 0; x < halves_.crossings_.size() && allowed; ++x) {
                const Crossing& crossing = halves_.crossings_[x];
                const std::size_t row = others_[x] | crossing.outer_rows[outer] | crossing.inner_rows[i];
                allowed = !crossing.in_high || crossing.rule->allowed[row] != 0;
            }
            if (allowed) list.push_back(halves_.inner_[i]);
        }
        return list.empty() ? nullptr : &list;
    }

private:
    const WaysInHalves& halves_;
    std::vector<std::size_t> others_;
    std::map<std::uint64_t, std::vector<Part>> lists_;
};

WaysInHalves::WaysInHalves(const MissProblem& problem, const std::vector<std::size_t>& indices)
    : problem_(problem),
      all_(indices.size() <= kAllKept),
      low_(indices.begin(), indices.begin() + static_cast<std::ptrdiff_t>(indices.size() / 2)),
      high_(indices.begin() + static_cast<std::ptrdiff_t>(indices.size() / 2), indices.end()),
      outer_(parts_of(problem, low_)),
      inner_(parts_of(problem, high_)) {
    // The number with the widest range parts the ways best.
    std::array<double, 3> range{};
    for (const std::size_t i : indices) {
        for (std::size_t r = 0; r < 3; ++r) range[r] += std::abs(problem.change[i][r]);
    }
    axis_ = static_cast<std::size_t>(std::max_element(range.begin(), range.end()) - range.begin());
    const std::size_t axis = axis_;
    std::stable_sort(inner_.begin(), inner_.end(), [axis](const Part& a, const Part& b) { return a.adds[axis] < b.adds[axis]; });
    find_crossings();
}

bool WaysInHalves::count(const Miss& fixed, Ways ways, BestWays& best, std::size_t& looks_left) const {
    const std::size_t axis = axis_;
    Matches matches(*this, ways);
    double squares_of_others = 0.0;
    for (std::size_t i = 0; i < ways.size(); ++i) squares_of_others += ways[i] == 1 && !holds(i) ? problem_.squares[i] : 0.0;
    for (std::size_t at = 0; at < outer_.size(); ++at) {
        const Part& a = outer_[at];
        const std::vector<Part>* inner = matches.of(at);
        if (inner == nullptr) continue;
        const Miss so_far = sum(fixed, a.adds);
        double limit_mm = best.limit_mm(all_);
        auto b = std::lower_bound(inner->begin(), inner->end(), -limit_mm - so_far[axis],
                                  [axis](const Part& part, double least) { return part.adds[axis] < least; });
        for (; b != inner->end(); ++b) {
            const Miss miss = sum(so_far, b->adds);
            if (miss[axis] > limit_mm) break;
            if (std::abs(miss[0]) > limit_mm || std::abs(miss[1]) > limit_mm || std::abs(miss[2]) > limit_mm) continue;
            if (looks_left == 0) return false;
            --looks_left;
            if (!best.may_take(miss, squares_of_others + a.squares + b->squares)) continue;
            for (std::size_t i = 0; i < low_.size(); ++i) ways[low_[i]] = static_cast<std::uint8_t>((a.bits >> i) & 1U);
            for (std::size_t i = 0; i < high_.size(); ++i) ways[high_[i]] = static_cast<std::uint8_t>((b->bits >> i) & 1U);
            best.offer(ways, miss);
            limit_mm = best.limit_mm(all_);
        }
    }
    return true;
}

bool WaysInHalves::holds(std::size_t choice) const { return is_in(low_, choice) || is_in(high_, choice); }

void WaysInHalves::find_crossings() {
    for (const JointRule& rule : problem_.joints) {
        if (crossings_.size() == kMostCrossings) return;  // the rest is refused where it is offered
        if (std::all_of(rule.allowed.begin(), rule.allowed.end(), [](char allowed) { return allowed != 0; })) continue;
        Crossing crossing;
        crossing.rule = &rule;
        std::size_t low = 0, high = 0;
        for (const std::size_t choice : rule.choices) {
            low += is_in(low_, choice) ? 1U : 0U;
            high += is_in(high_, choice) ? 1U : 0U;
        }
        if (low == rule.choices.size() || high == rule.choices.size() || low + high == 0) continue;  // looked at already, or not ours
        crossing.in_high = high > 0;
        crossing.outer_rows = rows_of(rule, low_, outer_);
        crossing.inner_rows = rows_of(rule, high_, inner_);
        crossings_.push_back(std::move(crossing));
    }
}

std::vector<WaysInHalves::Part> WaysInHalves::parts_of(const MissProblem& problem, const std::vector<std::size_t>& indices) {
    Ways ways(problem.change.size(), 0);
    std::vector<const JointRule*> rules;
    for (const JointRule& rule : problem.joints) {
        const bool inside = std::all_of(rule.choices.begin(), rule.choices.end(), [&](std::size_t c) { return is_in(indices, c); });
        if (inside) rules.push_back(&rule);
    }
    std::vector<Part> sums(std::size_t{1} << indices.size());
    std::vector<Part> parts;
    for (std::uint32_t bits = 0; bits < sums.size(); ++bits) {
        if (bits != 0) {
            std::size_t lowest = 0;
            while (((bits >> lowest) & 1U) == 0) ++lowest;
            const Part& without = sums[bits & (bits - 1)];
            sums[bits] = {sum(without.adds, problem.change[indices[lowest]]), without.squares + problem.squares[indices[lowest]], bits};
        }
        if (agrees(rules, indices, bits, ways)) parts.push_back(sums[bits]);
    }
    return parts;
}

std::vector<std::uint8_t> WaysInHalves::rows_of(const JointRule& rule, const std::vector<std::size_t>& indices, const std::vector<Part>& parts) {
    std::vector<std::uint8_t> rows(parts.size(), 0);
    for (std::size_t i = 0; i < rule.choices.size(); ++i) {
        const auto at = std::find(indices.begin(), indices.end(), rule.choices[i]);
        if (at == indices.end()) continue;
        const auto bit = static_cast<std::size_t>(at - indices.begin());
        for (std::size_t p = 0; p < parts.size(); ++p) rows[p] = static_cast<std::uint8_t>(rows[p] | ((parts[p].bits >> bit) & 1U) << i);
    }
    return rows;
}

}  // namespace boardring
