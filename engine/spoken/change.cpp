#include "spoken/change.hpp"

#include <algorithm>
#include <iterator>
#include <optional>
#include <set>
#include <utility>

#include <fmt/format.h>

#include "base/quoted.hpp"
#include "io/edit_json.hpp"
#include "spoken/change_phrase.hpp"

namespace boardring {
namespace {

std::optional<std::string> edited(std::string_view text, const Edit& edit) {
    switch (edit.kind) {
        case Edit::Kind::set: return with_value(text, edit.path, edit.json);
        case Edit::Kind::take_out: return without_value(text, edit.path);
        case Edit::Kind::rename: return with_key(text, edit.path, edit.json);
    }
    return std::nullopt;
}

struct Edited {
    std::string text;
    std::vector<Edit> edits;
    Findings findings;
};

Edited after_phrase(const std::string& text, const std::string& phrase, const std::vector<std::string>& listed) {
    Edited result{text, {}, {}};
    LocatedJson json = read_located_json(text);
    if (!json.root) {
        result.findings = std::move(json.findings);
        return result;
    }
    ChangeRead read = read_change(phrase, *json.root, listed);
    if (!read.findings.empty()) {
        result.findings = std::move(read.findings);
        return result;
    }
    for (const Edit& edit : read.edits) {
        const auto next = edited(result.text, edit);
        if (!next) {
            result.findings.push_back({Severity::error, "change.no-such", "",
                                       fmt::format("{} cannot be said here: the file has nothing there it could stand in.", in_quotes(phrase)),
                                       "Give what it belongs to first, or edit the file."});
            result.text = text;
            return result;
        }
        result.text = *next;
    }
    result.edits = std::move(read.edits);
    return result;
}

// ---- how to go back ----

std::string undoing(const Edit& edit, const JsonValue& before, const JsonValue& after) {
    if (edit.kind == Edit::Kind::rename) {
        JsonPath path = edit.path;
        path.back() = edit.json;
        return fmt::format("{} means {}", json_pointer(path), edit.path.back());
    }
    if (value_at(before, edit.path) != nullptr) return phrase_for(edit.path, before);
    // What was made: the first step of the way that was not there.
    JsonPath made;
    for (const std::string& step : edit.path) {
        made.push_back(step);
        if (value_at(before, made) != nullptr) continue;
        if (step == "-") {
            made.pop_back();
            const JsonValue* list = value_at(after, made);
            made.push_back(std::to_string(list == nullptr || list->children.empty() ? 0 : list->children.size() - 1));
        }
        break;
    }
    return "leave out " + subject_name(made, after);
}

bool gives(const std::string& from, const std::vector<std::string>& phrases, const std::string& wanted, const std::vector<std::string>& listed) {
    std::string text = from;
    for (const std::string& phrase : phrases) {
        Edited next = after_phrase(text, phrase, listed);
        if (!next.findings.empty()) return false;
        text = std::move(next.text);
    }
    return text == wanted;
}

// Phrases that lead from the text behind the edits to the one before them; none if that cannot be said.
std::vector<std::string> way_back(const std::string& before, const Edited& made, const std::vector<std::string>& listed) {
    std::vector<std::string> back;
    std::string text = before;
    for (const Edit& edit : made.edits) {
        const std::string step_before = text;
        const LocatedJson was = read_located_json(step_before);
        text = edited(text, edit).value_or(text);
        const LocatedJson is = read_located_json(text);
        if (!was.root || !is.root) return {};
        std::string phrase = undoing(edit, *was.root, *is.root);
        const JsonValue* old = value_at(*was.root, edit.path);
        if (old != nullptr && !gives(text, {phrase}, step_before, listed)) {
            // No words of ours say it to the byte: its place and what stood there do.
            phrase = fmt::format("{} is {}", json_pointer(edit.path), step_before.substr(old->begin, old->end - old->begin));
        }
        back.insert(back.begin(), std::move(phrase));
    }
    // Many a change of two places is undone by one phrase: a joint, a size given another way.
    if (back.size() > 1 && gives(made.text, {back.back()}, before, listed)) return {back.back()};
    if (back.size() > 1 && gives(made.text, {back.front()}, before, listed)) return {back.front()};
    return gives(made.text, back, before, listed) ? back : std::vector<std::string>{};
}

// ---- what people see ----

std::vector<std::string> lines_of(std::string_view text) {
    std::vector<std::string> lines;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        std::string_view line = text.substr(at, end - at);
        if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
        lines.emplace_back(line);
        at = end + 1;
    }
    return lines;
}

LinesChanged lines_changed(std::string_view before, std::string_view after) {
    std::vector<std::string> old_lines = lines_of(before), new_lines = lines_of(after);
    const auto [old_at, new_at] = std::mismatch(old_lines.begin(), old_lines.end(), new_lines.begin(), new_lines.end());
    auto old_end = old_lines.end(), new_end = new_lines.end();
    while (old_end != old_at && new_end != new_at && *std::prev(old_end) == *std::prev(new_end)) {
        --old_end;
        --new_end;
    }
    LinesChanged changed;
    changed.line = static_cast<std::size_t>(old_at - old_lines.begin()) + 1;
    changed.before.assign(old_at, old_end);
    changed.after.assign(new_at, new_end);
    return changed;
}

// ---- may the new text stay? ----

Findings new_errors(std::string_view before, std::string_view after, const ReadBeside& beside) {
    std::multiset<std::pair<std::string, std::string>> known;
    for (const Finding& finding : read_project(before, beside).findings) {
        if (finding.severity == Severity::error) known.emplace(finding.code, finding.message);
    }
    Findings errors;
    for (Finding& finding : read_project(after, beside).findings) {
        if (finding.severity != Severity::error) continue;
        const auto found = known.find({finding.code, finding.message});
        if (found == known.end()) {
            errors.push_back(std::move(finding));
        } else {
            known.erase(found);
        }
    }
    return errors;
}

// The stock a project may name: its own and that of its price list.
std::vector<std::string> stock_listed(std::string_view text, const ReadBeside& beside) {
    std::vector<std::string> names;
    const ProjectRead read = beside ? read_project(text, beside) : ProjectRead{};
    if (read.project) for (const Stock& stock : read.project->stock) names.push_back(stock.name);
    return names;
}

}  // namespace

ChangedProject change_project(std::string_view text, const std::vector<std::string>& phrases, const ReadBeside& beside) {
    const std::vector<std::string> listed = stock_listed(text, beside);
    ChangedProject changed;
    changed.text = text;
    bool way = true;
    for (const std::string& phrase : phrases) {
        const std::string before = changed.text;
        Edited made = after_phrase(before, phrase, listed);
        append(changed.findings, std::move(made.findings));
        if (!changed.findings.empty()) continue;  // the other phrases are still looked at
        changed.lines.push_back(lines_changed(before, made.text));
        changed.text = made.text;
        if (made.text == before) continue;
        const std::vector<std::string> back = way_back(before, made, listed);
        way = way && !back.empty();
        changed.back.insert(changed.back.begin(), back.begin(), back.end());
    }
    if (!way) changed.back.clear();
    if (changed.findings.empty() && changed.text != text) changed.findings = new_errors(text, changed.text, beside);
    if (!changed.findings.empty()) {
        changed.text = text;
        changed.lines.clear();
        changed.back.clear();
    }
    return changed;
}

}  // namespace boardring
