#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "spoken/draft.hpp"

namespace boardring {

// What a draft still lacks, and what may be assumed for it: shape, boards, place, size and joints, one after another. Not for use outside
// this room.

class Completion {
public:
    explicit Completion(Draft& draft) : d_(draft) {}

    Findings run();

private:
    Draft& d_;
    Findings findings_;
    std::size_t most_of_all_ = 0;  // how many boards were said to be as all the others

    // complete.cpp: what is told, the shape, where its size is taken, the joints
    void tell(std::string code, std::string message, std::string fix);
    void missing(std::string message, std::string fix);
    void unfit(std::string message, std::string fix);
    void assume(const std::string& pointer, const std::string& words);
    [[nodiscard]] std::string show(const SaidLength& length) const { return spoken_length(length, d_.unit); }
    [[nodiscard]] std::string an() const;  // "a hexagon", "an L"
    [[nodiscard]] std::string an_upper() const;
    [[nodiscard]] bool is_opening() const { return d_.shape == SpokenShape::window || d_.shape == SpokenShape::door; }
    void settle_shape();
    void refuse_parts();
    void settle_half();
    void settle_place();
    void settle_joints();
    void share_through();

    // complete_boards.cpp: which board is which, and how many courses
    void settle_boards();
    void gather_pile(std::size_t boards);
    [[nodiscard]] std::string pile_entry(std::size_t count, const SaidSection& section, const std::string& stock) const;
    [[nodiscard]] bool is_as_all(const SaidSection& own) const;
    void too_many(std::size_t told, std::size_t boards);
    void height_in_courses();
    void place_parts();
    void place_exceptions(std::size_t boards);

    // complete_size.cpp: the size, each shape in its own way
    void settle_size();
    void unfit_size(const std::optional<SaidLength>& size, std::string_view name);
    void settle_regular();
    void settle_box();
    void settle_arc();
    [[nodiscard]] std::string sides_touch_words() const;
    void settle_opening();
};

}  // namespace boardring
