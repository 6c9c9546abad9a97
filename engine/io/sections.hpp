#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "io/fields.hpp"
#include "io/read_project.hpp"

// The parts of a project file, each read by a file of its name. What one part needs of another comes in as an argument.

namespace boardring {

inline constexpr std::size_t kMostCorners = 1000;

/// "units" of a project or of a stock file.
std::optional<Unit> read_unit(Job& job, const Fields& file);
Tools read_tools(Job& job, const Fields& project);
Accuracy read_accuracy(Job& job, const Fields& project);
/// `boards`: how many the outline has, if that is known.
Wanted read_wanted(Job& job, const Fields& project, Preset preset, std::optional<std::size_t> boards);

/// The outline, and how many boards it takes where that could be read. `margin_mm` has one entry per board.
struct OutlineRead {
    OutlineAsked asked;
    std::optional<std::size_t> boards;
};
OutlineRead read_outline(Job& job, const Fields& project);

/// What one notebook list of readings comes to.
struct ReadingsRead {
    ReadingsOutline outline;
    std::optional<std::size_t> boards;
};
/// `found`: sizes found with a tape, any of them, also repeated; else every side and angle is needed once.
/// `from_above`: nothing can be read against level.
ReadingsRead read_readings(Job& job, const Spot& list, bool open, bool found, bool from_above);

struct StockRead {
    std::vector<Stock> stock;  ///< in file order; sizes are 0 where they could not be read
    bool readable = true;      ///< false: "stock" is there but no group, or a stock file cannot be read, so not all names are known
};
StockRead read_stock(Job& job, const Fields& project);
/// Stock lists named by "stock_file", added to what the project itself says: new names whole, of known names the lengths.
void add_stock_files(Job& job, const Fields& project, const ReadBeside& beside, StockRead& stock);
/// Notes the stock the project itself lists and makes nothing of (`stock.not-used`). A shared list may hold what one project does not need.
/// \param listed  how many of `read.stock` the project lists, the first ones
void note_unused_stock(Job& job, const Fields& project, const Project& read, std::size_t listed);
/// Index of the stock named at `spot`; an unknown name is a finding.
std::optional<std::size_t> read_stock_name(Job& job, const Spot& spot, const StockRead& stock);

/// What one entry of "boards" says of a board; a key that is there but wrong counts as given, so it is told once.
struct BoardEntry {
    bool has_stock = false;
    bool has_width = false;
    bool has_thickness = false;
    std::optional<std::size_t> stock;
    double width_mm = 0.0;  ///< of two sizes the larger
    double thickness_mm = 0.0;
    double width_taper_mm = 0.0;  ///< the second of two sizes less the first
    double thickness_taper_mm = 0.0;
    std::string pointer;
};
/// Warning value.odd-scale at the thickness of a board or of stock that is thicker than wide; nothing where a size was refused (0).
void tell_if_thicker_than_wide(Job& job, const Spot& thickness, double width_mm, double thickness_mm);
/// Reads the keys of `entry` that say what a board is: stock, width, thickness.
/// \param placed  how the boards lie, where each has its place: then the size that lies in the plan may be two, one for each end
BoardEntry read_board_entry(Job& job, const Fields& fields, const StockRead& stock, std::optional<Lie> placed);
/// Key by key: what the board's own entry does not say, `all` says; what neither says, the stock says.
BoardEntry merged(const BoardEntry& all, const BoardEntry& own, const StockRead& stock);

struct BoardsRead {
    Lie lie = Lie::flat;
    std::size_t courses = 1;
    std::vector<BoardAsked> boards;  ///< as many as the outline has
    std::vector<PileKind> pile;      ///< if the places are not given
};
BoardsRead read_boards(Job& job, const Fields& project, const StockRead& stock, std::optional<std::size_t> boards);
/// How pieces without a ring lie; flat where "boards" does not say.
Lie read_lie_of_pieces(Job& job, const Fields& project);

/// Boards given by how many there are of each; what an entry does not say is taken from `all`. `boards`: how many are needed.
std::vector<PileKind> read_pile(Job& job, const Spot& spot, Lie lie, const BoardEntry& all, const StockRead& stock,
                                std::optional<std::size_t> boards);

/// One joint per corner. `open`: the first and last corner are free ends.
std::vector<JointAsked> read_joints(Job& job, const Fields& project, std::optional<std::size_t> boards, bool open);

struct EndsRead {
    EndAsked first;
    EndAsked last;
};
EndsRead read_ends(Job& job, const Fields& project, const OutlineAsked& outline, std::optional<std::size_t> boards);

std::vector<PieceAsked> read_pieces(Job& job, const Fields& project, const StockRead& stock);

/// What dry and wet months do to the wood; where the project does not say and all woods are known, what is usual.
std::optional<Year> read_year(Job& job, const Fields& project, const std::vector<Stock>& stock, Preset preset);

/// Warns of plain numbers that would be likelier in another unit (`value.odd-scale`).
void warn_of_odd_scale(Job& job);

/// True for "1", "2" ... "999999": how boards are named as keys. The number.
std::optional<std::size_t> board_key(std::string_view key);
bool is_board_key(std::string_view key);
/// True for one to three letters: how corners are named as keys.
bool is_corner_key(std::string_view key);

}  // namespace boardring
