#!/usr/bin/env python3
"""The house rules that a compiler does not know: which room may include which, and where heavy headers may stand."""
import os
import pathlib
import re
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
ENGINE = SOURCE / "engine"

# engine/README.md: a room may use itself and these.
ROOMS = {
    "base": [],
    "project": ["base"],
    "outline": ["base", "project"],
    "joinery": ["base"],
    "frame": ["base", "project", "outline", "joinery"],
    "closure": ["base", "project", "outline", "joinery", "frame"],
    "season": ["base", "project", "outline", "joinery", "frame"],
    "cutlist": ["base", "project", "outline", "joinery", "frame"],
    "arrange": ["base", "project", "outline", "joinery", "frame", "cutlist"],
    "stock": ["base", "project", "outline", "joinery", "frame", "cutlist"],
    "plan": ["arrange", "base", "project", "outline", "joinery", "frame", "closure", "season", "cutlist", "stock"],
    "drawing": ["base"],
    "report": ["arrange", "drawing", "base", "project", "outline", "joinery", "frame", "closure", "season", "cutlist", "stock", "plan"],
    "io": ["arrange", "base", "project", "outline", "joinery", "frame", "closure", "season", "cutlist", "stock", "plan"],
    "spoken": ["arrange", "base", "project", "outline", "joinery", "frame", "closure", "season", "cutlist", "stock", "plan", "io"],
    "pdf": ["base", "drawing"],
}
CLI_MAY_USE = ["base", "plan", "io", "spoken", "report", "drawing", "pdf"]

# header prefix -> (rooms whose .cpp files may include it)
FENCED = {
    "nlohmann/": ["io"],
    "boost/": ["frame"],
    "Clp": ["stock"],
    "Coin": ["stock"],
    "CLI/": ["cli"],
    "cairo": ["pdf"],
    "Eigen/": ["outline"],
}
# The parts of plan.json share their helpers through one header of io's own; names only, no library code.
NAMES_ONLY = {"nlohmann/json_fwd.hpp": "engine/io/plan_json.hpp"}
INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]', re.M)
# What engine/ must not do: print, read the clock, the environment, leave.
FORBIDDEN = re.compile(r"\b(?:std::cout|std::cerr|printf|fmt::print|getenv|std::exit|abort|chrono|time\()\b")


def sources(folder):
    return sorted(p for p in folder.rglob("*") if p.suffix in (".hpp", ".cpp"))


class Fences(unittest.TestCase):
    def test_every_room_is_listed(self):
        rooms = {p.name for p in ENGINE.iterdir() if p.is_dir()}
        self.assertEqual(rooms, set(ROOMS), "a new room goes into ROOMS here, engine/CMakeLists.txt, and the rules and rooms of engine/README.md")

    def test_rooms_link_what_they_may_include(self):
        linked = {}
        for name, rooms in re.findall(r"^boardring_room\((\w+)(?: ROOMS((?: \w+)+?))?(?: PRIVATE [^)]*)?\)", (ENGINE / "CMakeLists.txt").read_text(), re.M):
            linked[name] = set()
            for room in rooms.split():
                linked[name] |= {room} | linked[room]
        self.assertEqual(linked, {room: set(may) for room, may in ROOMS.items() if room != "pdf"},
                         "engine/CMakeLists.txt links other rooms than ROOMS here allows; engine/README.md has the rule")

    def test_rooms_include_only_rooms_before_them(self):
        for room, allowed in ROOMS.items():
            for path in sources(ENGINE / room):
                for _, name in INCLUDE.findall(path.read_text()):
                    other = name.split("/")[0]
                    if "/" in name and other in ROOMS and other != room:
                        self.assertIn(other, allowed, f"{path.relative_to(SOURCE)} includes {name}: a room may use only those before it (engine/README.md)")

    def test_command_line_uses_only_the_front_of_the_engine(self):
        for path in sources(SOURCE / "cli"):
            for _, name in INCLUDE.findall(path.read_text()):
                other = name.split("/")[0]
                if "/" in name and other in ROOMS:
                    self.assertIn(other, CLI_MAY_USE, f"{path.relative_to(SOURCE)} includes {name}: cli/ uses only the front of the engine (engine/README.md)")

    def test_heavy_headers_stay_in_source_files_of_their_rooms(self):
        for folder in (ENGINE, SOURCE / "cli"):
            for path in sources(folder):
                for _, name in INCLUDE.findall(path.read_text()):
                    for prefix, rooms in FENCED.items():
                        if name.startswith(prefix) and NAMES_ONLY.get(name) != path.relative_to(SOURCE).as_posix():
                            self.assertEqual(path.suffix, ".cpp", f"{path.relative_to(SOURCE)} includes {name}")
                            self.assertIn(path.parent.name, rooms, f"{path.relative_to(SOURCE)} includes {name}")

    def test_every_type_has_a_name_of_its_own(self):
        # One flat namespace: two types of one name in two rooms link without a word, and share each other's constructors.
        where = {}
        for path in sources(ENGINE):
            if path.suffix == ".hpp":
                for name in re.findall(r"^(?:struct|class|enum class) (\w+)\s*(?::[^;{]*)?\{", path.read_text(), re.M):
                    self.assertNotIn(name, where, f"{name} stands in {where.get(name)} and in {path.relative_to(SOURCE)}: give one another name")
                    where[name] = path.relative_to(SOURCE)
        self.assertGreater(len(where), 100)

    def test_places_the_developers_are_sent_to_are_there(self):
        looked = 0
        for page in ("DEVELOPERS.md", "engine/README.md"):
            for name in re.findall(r"`((?:engine|tests|docs|cli|schemas|\.ci)/[\w./-]+)`", (SOURCE / page).read_text()):
                if "CODE" in name:
                    continue
                looked += 1
                self.assertTrue((SOURCE / name).exists(), f"{page} sends people to {name}, which is not there")
        self.assertGreater(looked, 30)

    def test_scripts_the_developers_are_told_to_run_can_be_run(self):
        named = set(re.findall(r"(?:tests|\.ci)/[\w/]+(?:\.py|\.sh)", (SOURCE / "DEVELOPERS.md").read_text()))
        self.assertGreater(len(named), 5)
        for name in sorted(named):
            self.assertTrue((SOURCE / name).is_file(), f"DEVELOPERS.md names {name}, which is not there")
            self.assertTrue(os.access(SOURCE / name, os.X_OK), f"DEVELOPERS.md has {name} run: chmod +x")

    def test_engine_is_quiet(self):
        for path in sources(ENGINE):
            text = re.sub(r"//[^\n]*", "", path.read_text())
            found = FORBIDDEN.search(text)
            self.assertIsNone(found, f"{path.relative_to(SOURCE)}: {found and found.group()}; the engine gives values back, cli/ prints and reads")


if __name__ == "__main__":
    unittest.main()
