#include "base/suggest.hpp"

#include <algorithm>

namespace boardring {
namespace {

constexpr std::size_t kLongestWord = 64;

char folded(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

std::size_t edits_allowed(std::size_t letters) {
    return letters <= 4 ? 1 : letters <= 8 ? 2 : 3;
}

}  // namespace

std::size_t edits_between(std::string_view a, std::string_view b) {
    std::vector<std::size_t> before_last(b.size() + 1);
    std::vector<std::size_t> last(b.size() + 1);
    std::vector<std::size_t> row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        before_last.swap(last);
        last.swap(row);
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const bool same = folded(a[i - 1]) == folded(b[j - 1]);
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0U : 1U)});
            const bool swapped = i > 1 && j > 1 && folded(a[i - 1]) == folded(b[j - 2]) && folded(a[i - 2]) == folded(b[j - 1]);
            if (swapped) row[j] = std::min(row[j], before_last[j - 2] + 1);
        }
    }
    return row[b.size()];
}

std::string nearest_word(std::string_view word, const std::vector<std::string_view>& known) {
    if (word.empty() || word.size() > kLongestWord) return "";
    std::string_view nearest;
    std::size_t fewest = edits_allowed(word.size()) + 1;
    for (const std::string_view candidate : known) {
        if (candidate.size() > kLongestWord) continue;
        const std::size_t edits = edits_between(word, candidate);
        const bool something_kept = edits < std::max(word.size(), candidate.size());
        if (edits < fewest && (edits == 0 || something_kept)) {
            fewest = edits;
            nearest = candidate;
        }
    }
    return std::string(nearest);
}

}  // namespace boardring
