#include "season/species.hpp"

#include <algorithm>

#include "base/suggest.hpp"

namespace boardring {
namespace {

constexpr bool kMemory = true;

using Words = std::vector<std::string>;

Words words_of(std::string_view text) {
    Words words;
    std::string word;
    for (const char c : text) {
        const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || static_cast<unsigned char>(c) >= 0x80;
        if (letter) {
            word += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        } else if (!word.empty()) {
            words.push_back(std::move(word));
            word.clear();
        }
    }
    if (!word.empty()) words.push_back(std::move(word));
    std::sort(words.begin(), words.end());
    return words;
}

bool holds_all(const Words& all, const Words& some) { return std::includes(all.begin(), all.end(), some.begin(), some.end()); }

bool shares_one(const Words& a, const Words& b) {
    return std::any_of(a.begin(), a.end(), [&](const std::string& word) { return std::binary_search(b.begin(), b.end(), word); });
}

}  // namespace

const std::vector<WoodMovement>& known_woods() {
    static const std::vector<WoodMovement> woods{
        {"Alder, red", 0.00151, 0.00256},
        {"Ash, Oregon", 0.00141, 0.00285},
        {"Ash, white", 0.00169, 0.00274},
        {"Aspen, quaking", 0.00119, 0.00234},
        {"Baldcypress", 0.00130, 0.00216, kMemory},
        {"Beech, American", 0.00190, 0.00431},
        {"Birch, river", 0.00162, 0.00327},
        {"Birch, sweet", 0.00256, 0.00338},
        {"Birch, yellow", 0.00256, 0.00338},
        {"Butternut", 0.00116, 0.00223},
        {"Cedar, Atlantic white", 0.00099, 0.00187, kMemory},
        {"Cedar, incense", 0.00112, 0.00180, kMemory},
        {"Cedar, western red", 0.00111, 0.00234, kMemory},
        {"Cedar, yellow", 0.00095, 0.00208, kMemory},
        {"Cherry, black", 0.00126, 0.00248, kMemory},
        {"Chestnut, American", 0.00116, 0.00234},
        {"Cottonwood, eastern", 0.00133, 0.00327},
        {"Douglas-fir", 0.00165, 0.00267, kMemory},
        {"Elm, rock", 0.00165, 0.00285},
        {"Elm, winged", 0.00183, 0.00419},
        {"Fir, balsam", 0.00099, 0.00241, kMemory},
        {"Fir, white", 0.00112, 0.00245, kMemory},
        {"Hackberry", 0.00165, 0.00315},
        {"Hemlock, eastern", 0.00102, 0.00237, kMemory},
        {"Hemlock, western", 0.00144, 0.00274, kMemory},
        {"Honeylocust", 0.00144, 0.00230},
        {"Larch, western", 0.00155, 0.00323, kMemory},
        {"Locust, black", 0.00158, 0.00252},
        {"Maple, bigleaf", 0.00126, 0.00248},
        {"Maple, black", 0.00165, 0.00353},
        {"Maple, red", 0.00137, 0.00289},
        {"Maple, silver", 0.00102, 0.00252},
        {"Maple, sugar", 0.00165, 0.00353},
        {"Oak, live", 0.00230, 0.00338},
        {"Oak, red", 0.00158, 0.00369},
        {"Oak, white", 0.00180, 0.00365},
        {"Persimmon, common", 0.00278, 0.00403},
        {"Pine, eastern white", 0.00071, 0.00212, kMemory},
        {"Pine, lodgepole", 0.00148, 0.00234, kMemory},
        {"Pine, ponderosa", 0.00133, 0.00216, kMemory},
        {"Pine, southern yellow", 0.00176, 0.00265, kMemory},
        {"Pine, western white", 0.00141, 0.00259, kMemory},
        {"Redwood", 0.00120, 0.00205, kMemory},
        {"Spruce, Engelmann", 0.00130, 0.00248, kMemory},
        {"Spruce, red", 0.00130, 0.00274, kMemory},
        {"Spruce, Sitka", 0.00148, 0.00263, kMemory},
        {"Sweetgum", 0.00183, 0.00365},
        {"Tanoak", 0.00169, 0.00423},
        {"Tupelo, water", 0.00144, 0.00267},
        {"Walnut, black", 0.00190, 0.00274, kMemory},
    };
    return woods;
}

std::optional<WoodMovement> find_wood(std::string_view name) {
    const Words asked = words_of(name);
    if (asked.empty()) return std::nullopt;
    std::optional<WoodMovement> held;
    bool several = false;
    for (const WoodMovement& wood : known_woods()) {
        const Words words = words_of(wood.name);
        if (words == asked) return wood;
        if (!holds_all(words, asked)) continue;
        several = held.has_value();
        if (several) break;
        held = wood;
    }
    // One word alone names a kind only where the table has one of that kind; a colour or a place names none.
    const bool is_kind = held && words_of(held->name.substr(0, held->name.find(','))) == asked;
    return !several && is_kind ? held : std::nullopt;
}

std::string spoken_name(std::string_view name) {
    const std::size_t comma = name.find(", ");
    std::string spoken = comma == std::string_view::npos ? std::string(name)
                                                         : std::string(name.substr(comma + 2)) + " " + std::string(name.substr(0, comma));
    for (char& c : spoken) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    return spoken;
}

std::vector<std::string> woods_like(std::string_view name, std::size_t most) {
    const Words asked = words_of(name);
    std::vector<std::string> like;
    for (const WoodMovement& wood : known_woods()) {
        if (like.size() == most) break;
        if (shares_one(words_of(wood.name), asked)) like.push_back(spoken_name(wood.name));
    }
    if (!like.empty()) return like;
    std::vector<std::string> spoken;
    for (const WoodMovement& wood : known_woods()) spoken.push_back(spoken_name(wood.name));
    const std::string nearest = nearest_word(name, {spoken.begin(), spoken.end()});
    if (!nearest.empty()) like.push_back(nearest);
    return like;
}

}  // namespace boardring
