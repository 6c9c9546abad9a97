#include "spoken/word_table.hpp"

#include <algorithm>
#include <array>
#include <map>

#include <fmt/format.h>

#include "base/ensure.hpp"
#include "base/suggest.hpp"
#include "project/joint_kinds.hpp"

namespace boardring {
namespace {

constexpr std::size_t kMostWords = 6;

// A comma in `synonyms` parts them. Order is that of the word list.
const std::vector<SpokenWord> kTable{
    {"triangle", "", Sense::regular, 3, "a regular ring of three boards", "triangle side 500 inside"},
    {"square", "", Sense::square, 0, "four equal sides and square corners", "square 600 outside"},
    {"pentagon", "", Sense::regular, 5, "a regular ring of five boards", "pentagon side 400 inside"},
    {"hexagon", "hexagonal", Sense::regular, 6, "a regular ring of six boards", "hexagon 640 inside flats"},
    {"heptagon", "septagon", Sense::regular, 7, "a regular ring of seven boards", "heptagon side 300 inside"},
    {"octagon", "octagonal", Sense::regular, 8, "a regular ring of eight boards", "octagon 24 in inside flats"},
    {"nonagon", "", Sense::regular, 9, "a regular ring of nine boards", "nonagon side 300 outside"},
    {"decagon", "", Sense::regular, 10, "a regular ring of ten boards", "decagon 900 inside flats"},
    {"dodecagon", "", Sense::regular, 12, "a regular ring of twelve boards", "dodecagon 1200 outside points"},
    {"sides", "sided,corners,cornered", Sense::sides, 0, "with a number: a regular ring of that many boards", "11 sides"},
    {"rectangle", "rectangular,oblong", Sense::rectangle, 0, "length by width; side AB is the length", "rectangle 1200 by 600 inside"},
    {"L", "l shape,l shaped", Sense::ell, 0, "a rectangle with a notch out of one corner", "L 1800 by 1200 outside, notch 700 by 500"},
    {"U", "u shape,u shaped", Sense::u_shape, 0, "a rectangle with a notch out of one long side", "U 1800 by 1200 outside, notch 800 by 600"},
    {"T", "t shape,t shaped", Sense::tee, 0, "a rectangle with the same notch out of two corners", "T 1800 by 1200 outside, notch 600 by 700"},
    {"ring", "round,circle", Sense::ring, 0, "pieces round a whole circle", "ring radius 400 inside, 12 pieces"},
    {"half", "half a,half an,half of a,half of an", Sense::half, 0, "before a shape of an even number of sides: half of it, open at the ends, as a bay against a wall", "half octagon 1200 inside flats, 5 boards"},
    {"half ring", "half round,half circle,semicircle,semicircular,half circular", Sense::part_ring, 180, "pieces round half a circle, open at the ends", "half ring radius 500 inside, 7 pieces"},
    {"quarter ring", "quarter round,quarter circle", Sense::part_ring, 90, "pieces round a quarter of a circle", "quarter ring radius 800 outside, 4 pieces"},
    {"arch", "arc,arched", Sense::arch, 0, "pieces along an arc: how wide and how high it rises", "arch 1100 wide, rise 400 inside, 7 pieces"},
    {"window", "opening", Sense::window, 0, "boards round an opening on a wall: sill, legs and head", "window 900 by 1200, margin 6"},
    {"door", "doorway", Sense::door, 0, "head and two legs, open at the floor", "door 762 by 1981, margin 6"},
    {"planter", "planters,bed,raised bed,trough,box,tree seat,seat,frame,mirror frame,picture frame,sandpit,bench,table,table top,lid,cold frame,gazebo,pond,border,edging,rim,shelf,surround,casing,architrave", Sense::thing, 0, "what it is to be; goes into the title, no more", "hexagon planter"},

    {"inside", "inner,internal,internally,clear inside,inside clear,soil side", Sense::inside, 0, "the size is taken along the inside of the boards", "640 inside flats"},
    {"outside", "outer,external,externally,air side", Sense::outside, 0, "along the outside", "square 600 outside"},
    {"middle", "centre line,center line", Sense::middle, 0, "along the middle of the boards", "arch 1100 wide, rise 400 middle, 7 pieces"},
    {"over all", "overall", Sense::over_all, 0, "outside, from end to end", "rectangle 1200 by 600 over all"},
    {"flats", "over flats,over the flats,across flats,across the flats,flat to flat,over,across", Sense::flats, 0, "from one side straight across to the opposite one", "640 over flats inside"},
    {"points", "over points,over the points,across points,across the points,point to point,corner to corner", Sense::points, 0, "from one corner straight across to the opposite one", "740 inside points"},
    {"side", "each side,a side", Sense::side, 0, "one side of a regular ring", "side 400 inside"},
    {"inscribed", "circle touching the sides", Sense::inscribed, 0, "diameter of the circle that touches the sides", "pentagon 500 inscribed inside"},
    {"circumscribed", "circle through the corners", Sense::circumscribed, 0, "diameter of the circle through the corners", "pentagon 600 circumscribed inside"},
    {"by", "", Sense::by, 0, "between length and width; x means the same", "1200 by 600"},
    {"wide", "width,chord", Sense::wide, 0, "of an arch or opening; of the boards where the shape has no width", "arch 1100 wide"},
    {"high", "tall,height", Sense::high, 0, "of an opening; how high another frame is, in whole courses", "window 900 wide 1200 high"},
    {"long", "length", Sense::length, 0, "of a rectangle", "rectangle 1200 long 600 wide inside"},
    {"radius", "", Sense::radius, 0, "of a ring, half ring, quarter ring or arch", "half ring radius 500 inside, 7 pieces"},
    {"diameter", "", Sense::diameter, 0, "twice the radius", "ring diameter 800 inside, 12 pieces"},
    {"rise", "rises", Sense::rise, 0, "how high an arch stands over its ends", "arch 1100 wide, rise 400 inside, 7 pieces"},
    {"span", "spans", Sense::span, 0, "degrees of the circle an arch takes", "arch radius 600, span 120 deg inside, 5 pieces"},
    {"notch", "notches,cut out", Sense::notch, 0, "what is missing of an L, U or T: along the length by along the width", "notch 700 by 500"},
    {"from the left", "from left", Sense::from_left, 0, "where the notch of a U starts; else it sits in the middle", "notch 800 by 600, 300 from the left"},
    {"pieces", "piece,segments,segment", Sense::pieces, 0, "how many boards make a ring or an arch", "7 pieces"},
    {"sides touch", "flats touch", Sense::fits_flats, 0, "the sides of the pieces touch the arc", "arch 1100 wide, rise 400 inside, 7 pieces, sides touch"},
    {"corners touch", "points touch", Sense::fits_corners, 0, "the corners of the pieces lie on the arc", "corners touch"},
    {"head", "", Sense::head, 0, "the board over an opening: its length, or its size", "door 762 by 1981, head 95x20"},
    {"legs", "leg,jambs,jamb", Sense::legs, 0, "the boards beside an opening: one length or two", "door, head 30 1/4 in, legs 80 1/2 in and 80 3/4 in"},
    {"sill", "", Sense::sill, 0, "the board under an opening", "window 900 by 1200, sill 120x30"},
    {"no", "without,not", Sense::no, 0, "before sill: head and legs only", "opening 900 by 1200 without sill"},
    {"ends square", "square ends", Sense::open_ends, 0, "the free ends of an arch or half ring are cut square, not towards its middle", "half ring radius 500 inside, 7 pieces, ends square"},

    {"boards", "board", Sense::board, 0, "before a size: all of them; before numbers: these", "board 4 is 30"},
    {"thick", "thickness", Sense::thick, 0, "how thick the boards are", "one 28 thick"},
    {"on edge", "edge,upright,standing on edge,standing,stood on edge", Sense::on_edge, 0, "the boards' thickness lies in the plan: planters, beds", "145x38 on edge"},
    {"flat", "laid flat,lying flat", Sense::flat, 0, "the boards' width lies in the plan: casings, frames", "95x20 flat"},
    {"courses", "course,layers,layer", Sense::course, 0, "rings on top of each other", "two courses"},
    {"pine", "", Sense::species, 0, "any species named here; treated before it brings its caution", "treated pine"},
    {"scots pine", "", Sense::species, 0, "", ""},
    {"spruce", "", Sense::species, 0, "", ""},
    {"fir", "", Sense::species, 0, "", ""},
    {"douglas fir", "", Sense::species, 0, "", ""},
    {"larch", "", Sense::species, 0, "", ""},
    {"cedar", "", Sense::species, 0, "", ""},
    {"western red cedar", "", Sense::species, 0, "", ""},
    {"redwood", "", Sense::species, 0, "", ""},
    {"hemlock", "", Sense::species, 0, "", ""},
    {"oak", "", Sense::species, 0, "", ""},
    {"white oak", "", Sense::species, 0, "", ""},
    {"red oak", "", Sense::species, 0, "", ""},
    {"ash", "", Sense::species, 0, "", ""},
    {"beech", "", Sense::species, 0, "", ""},
    {"birch", "", Sense::species, 0, "", ""},
    {"chestnut", "", Sense::species, 0, "", ""},
    {"robinia", "", Sense::species, 0, "", ""},
    {"maple", "", Sense::species, 0, "", ""},
    {"walnut", "", Sense::species, 0, "", ""},
    {"cherry", "", Sense::species, 0, "", ""},
    {"poplar", "", Sense::species, 0, "", ""},
    {"treated pine", "", Sense::species, 0, "", ""},
    {"treated spruce", "", Sense::species, 0, "", ""},
    {"treated", "", Sense::species, 0, "", ""},
    {"show face", "one face shows,face shows", Sense::surface, 1, "one face is the good one: pieces are not turned over", "95x20 flat, show face"},
    {"moulded", "molded", Sense::surface, 2, "a moulding: pieces are never turned", "70x18 flat, moulded"},
    {"at", "sold at,lengths,in lengths of", Sense::on_sale, 0, "before a length: it is on sale", "at 2.4 m for 9.60 and 3.6 m for 15.10"},
    {"for", "costs", Sense::price, 0, "after a length on sale: what one costs", "at 3.6 m for 14.20"},
    {"have", "own,offcut,offcuts", Sense::own, 0, "boards you have already", "have two of 2.4 m"},

    {"mitred", "mitre,mitres,miter,miters,mitered", Sense::mitre, 0, "both boards cut at a slope", "mitred"},
    {"butt", "butts,butted", Sense::butt, 0, "one board runs through, the other stops against it", "butt at B and C, 2 through"},
    {"half-lap", "half lap,half laps,half lapped,lap,laps,lapped,halved", Sense::half_lap, 0, "both run through, each cut to half its depth", "half-laps"},
    {"joint", "joints,corner", Sense::joint, 0, "before a letter: this corner", "corner B butt"},
    {"through", "runs through,run through,runs on,run on", Sense::through, 0, "after a board: it runs on at its butt joints", "boards 1 and 3 through"},
    {"margin", "reveal", Sense::margin, 0, "the strip left clear round an opening", "margin 6"},

    {"kerf", "saw cut,saw kerf", Sense::kerf, 0, "how wide the saw cuts", "kerf 3"},
    {"tilts", "tilt,saw tilts,blade tilts", Sense::tilt, 0, "how far the blade tilts from square, degrees", "saw tilts to 45"},
    {"swings", "swing,saw swings", Sense::swing, 0, "how far the saw swings from square, degrees", "saw swings to 50"},
    {"stops", "saw stops,saw goes", Sense::stop, 0, "whichever of the two your boards need", "saw stops at 45"},
    {"step", "steps,clicks,saw step", Sense::step, 0, "what the saw can be set to, degrees", "saw step 0.5"},
    {"reads", "saw reads", Sense::reads, 0, "what the saw's scale says at a square cut, 0 or 90", "saw reads 90"},
    {"garden", "garden work", Sense::preset, 1, "how true it is to be: a gap of 3 mm will do", "garden work"},
    {"joinery", "joinery work", Sense::preset, 2, "a gap of 1 mm will do", "joinery"},
    {"fine", "fine work", Sense::preset, 3, "a gap of 0.3 mm will do", "fine work"},

    {"gap", "gaps", Sense::gap, 0, "how far a joint may stand open", "gap 1"},
    {"spare", "spares", Sense::spare, 0, "more boards than the ring needs", "one spare"},
    {"last", "fitted last", Sense::last, 0, "after a board: it is fitted last", "board 6 last"},
    {"leave long", "leave,left,left long,last board left,leave the last board", Sense::leave_long, 0, "how much longer the last board is cut first", "leave 6 long"},
    {"called", "named,title", Sense::called, 0, "a title; goes on to the next comma", "called Courtyard planter"},
    {"clockwise", "", Sense::clockwise, 0, "the letters go round the other way", "clockwise"},
    {"from the room", "seen from the room", Sense::from_room, 0, "drawn as seen on a wall, not from above", "from the room"},

    {"fits round", "round a pot of,for a pot of,fits around", Sense::fits_round, 0, "as large inside as a round thing that wide", "hexagon fits round 400"},
    {"stands on", "stand on,must stand on", Sense::stands_on, 0, "as large outside as fits on a place", "hexagon stands on 800 by 600"},
    {"about", "roughly", Sense::about, 0, "before litres: as large as holds that much", "about 90 litres"},
    {"litres", "litre,liters,liter", Sense::litres, 0, "what it is to hold", "about 90 litres"},
    {"as large as my boards give", "as big as my boards give,as large as possible", Sense::as_large, 0, "as large as the boards you have allow", "hexagon as large as my boards give inside, have 3 of 2.4 m"},

    {"mm", "millimetre,millimetres,millimeter,millimeters", Sense::unit, 0, "after a number; alone: what every plain number is", "in mm"},
    {"cm", "centimetre,centimetres,centimeter,centimeters", Sense::unit, 1, "centimetres", "hexagon 64 cm inside flats"},
    {"m", "metre,metres,meter,meters", Sense::unit, 2, "metres", "at 3.6 m"},
    {"in", "ins,inch,inches", Sense::unit, 3, "inches; 5 1/2, 5-1/2 and 5.5 are all read; the mark \" too", "octagon 24 in inside flats"},
    {"ft", "foot,feet", Sense::unit, 4, "feet; the mark ' too", "at 8 ft"},

    {"a", "an,the,but,except,which,only,just,them,of,on,with,and,is,are,to,made,from,i,my,it,please,saw,all,wood,timber,decking,planks,sleepers,turned,lying,degrees,deg,off,each,in total,want,plan,work", Sense::filler, 0, "", ""},
};

std::vector<std::string> split(std::string_view text, char by) {
    std::vector<std::string> parts;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(by), text.size());
        parts.emplace_back(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return parts;
}

// As the listener spells words: lower case, a hyphen is a blank.
std::string folded(std::string_view word) {
    std::string text(word);
    for (char& c : text) c = c == '-' ? ' ' : c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    return text;
}

std::vector<std::string> ways_to_say(const SpokenWord& row) {
    std::vector<std::string> ways = split(row.synonyms, ',');
    ways.insert(ways.begin(), folded(row.word));
    return ways;
}

const std::map<std::string, const SpokenWord*>& phrases() {
    static const std::map<std::string, const SpokenWord*> found = [] {
        std::map<std::string, const SpokenWord*> map;
        for (const SpokenWord& row : kTable) {
            for (const std::string& way : ways_to_say(row)) {
                const bool fresh = map.emplace(way, &row).second;
                ENSURE(fresh || way == folded(row.word));
            }
        }
        return map;
    }();
    return found;
}

constexpr std::array<std::string_view, 20> kNumbers{"one",    "two",    "three",    "four",     "five",    "six",     "seven",
                                                    "eight",  "nine",   "ten",      "eleven",   "twelve",  "thirteen", "fourteen",
                                                    "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty"};

Sense sense_of(JointKind kind) {
    switch (kind) {
        case JointKind::mitre: return Sense::mitre;
        case JointKind::butt: return Sense::butt;
        case JointKind::half_lap: return Sense::half_lap;
    }
    return Sense::filler;
}

}  // namespace

const std::vector<SpokenWord>& word_table() {
    return kTable;
}

WordFound find_word(const std::vector<std::string>& words, std::size_t at) {
    WordFound found;
    std::string text;
    for (std::size_t count = 1; count <= kMostWords && at + count <= words.size(); ++count) {
        if (words[at + count - 1].empty()) break;
        text += (count == 1 ? "" : " ") + words[at + count - 1];
        const auto row = phrases().find(text);
        if (row != phrases().end()) found = {row->second, count};
    }
    return found;
}

std::optional<JointKind> joint_of(const SpokenWord* row) {
    if (row == nullptr) return std::nullopt;
    const auto kind = std::find_if(kJointKinds.begin(), kJointKinds.end(), [&](JointKind k) { return sense_of(k) == row->sense; });
    return kind == kJointKinds.end() ? std::nullopt : std::optional(*kind);
}

int spelled_number(std::string_view word) {
    const auto found = std::find(kNumbers.begin(), kNumbers.end(), word);
    return found == kNumbers.end() ? 0 : static_cast<int>(found - kNumbers.begin()) + 1;
}

std::string regular_name(std::size_t corners) {
    for (const SpokenWord& row : kTable) {
        if (row.sense == Sense::regular && static_cast<std::size_t>(row.value) == corners) return std::string(row.word);
    }
    return fmt::format("{}-sided ring", corners);
}

const std::vector<std::string_view>& known_words() {
    static const std::vector<std::string> kept = [] {
        std::vector<std::string> words;
        for (const SpokenWord& row : kTable) {
            for (const std::string& way : ways_to_say(row)) {
                for (std::string& word : split(way, ' ')) words.push_back(std::move(word));
            }
        }
        words.insert(words.end(), kNumbers.begin(), kNumbers.end());
        return words;
    }();
    static const std::vector<std::string_view> views(kept.begin(), kept.end());
    return views;
}

const SpokenWord* nearest_shape(std::string_view word) {
    std::vector<std::string_view> names;
    for (const SpokenWord& row : kTable) {
        if (row.sense == Sense::thing) break;
        if (row.word.find(' ') == std::string_view::npos && row.sense != Sense::half && row.sense != Sense::sides) names.push_back(row.word);
    }
    const std::string near = nearest_word(word, names);
    const auto row = std::find_if(kTable.begin(), kTable.end(), [&](const SpokenWord& r) { return r.word == near; });
    return row == kTable.end() ? nullptr : &*row;
}

std::string word_list_markdown() {
    std::string text = "| word | also | means | as in |\n|---|---|---|---|\n";
    for (const SpokenWord& row : kTable) {
        if (row.means.empty()) continue;
        std::string also;
        for (const std::string& way : split(row.synonyms, ',')) also += (also.empty() ? "" : ", ") + way;
        text += fmt::format("| {} | {} | {} | `{}` |\n", row.word, also, row.means, row.example);
    }
    std::string species;
    for (const SpokenWord& row : kTable) {
        if (row.sense == Sense::species) species += (species.empty() ? "" : ", ") + std::string(row.word);
    }
    return text + fmt::format("\nSpecies: {}.\n\nNumbers may be words: {} to {}.\n", species, kNumbers.front(), kNumbers.back());
}

std::string word_list() {
    std::string text;
    for (const SpokenWord& row : kTable) {
        if (row.means.empty()) continue;
        text += fmt::format("{:<14} {}\n{:<14}   {}\n", row.word, row.means, "", row.example);
        if (!row.synonyms.empty()) {
            std::string also;
            for (const std::string& way : split(row.synonyms, ',')) also += (also.empty() ? "" : ", ") + way;
            text += fmt::format("{:<14}   also: {}\n", "", also);
        }
    }
    return text;
}

std::string known_shapes() {
    std::string text;
    for (const SpokenWord& row : kTable) {
        if (row.sense == Sense::thing) break;
        if (row.sense == Sense::sides || row.sense == Sense::half) continue;
        text += (text.empty() ? "" : ", ") + std::string(row.word);
    }
    return text + ", or a number of sides";
}

}  // namespace boardring
