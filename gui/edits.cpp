#include "gui/edits.h"

#include <algorithm>

namespace hitchwright {
namespace {

/// In single quotes unless every character is plain for a shell.
std::string quote(const std::string& text) {
    constexpr std::string_view plain = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_.=-+/:,";
    if (!text.empty() && text.find_first_not_of(plain) == std::string::npos) return text;
    std::string quoted = "'";
    for (const char c : text) quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
    return quoted + "'";
}

}  // namespace

std::string_view key_of(std::string_view set) {
    std::string_view key = set.substr(0, set.find('='));
    while (!key.empty() && key.back() == ' ') key.remove_suffix(1);
    return key;
}

std::optional<std::string> find_value(const Edits& edits, std::string_view key) {
    const auto found =
        std::find_if(edits.sets.rbegin(), edits.sets.rend(), [&](const std::string& s) { return key_of(s) == key; });
    if (found == edits.sets.rend()) return std::nullopt;
    const std::size_t equals = found->find('=');
    return equals == std::string::npos ? std::string{} : found->substr(equals + 1);
}

Edits with_value(Edits edits, std::string_view key, std::string_view value) {
    std::string set = std::string(key) + "=" + std::string(value);
    const auto same = [&](const std::string& s) { return key_of(s) == key; };
    const auto place = std::find_if(edits.sets.begin(), edits.sets.end(), same);
    if (place == edits.sets.end()) {
        edits.sets.push_back(std::move(set));
        return edits;
    }
    *place = std::move(set);
    edits.sets.erase(std::remove_if(std::next(place), edits.sets.end(), same), edits.sets.end());
    return edits;
}

namespace {

/// True of what stands beside the value of a field.
bool is_part_of(std::string_view key, std::string_view field) {
    return key != field && key.starts_with(field) && (field_of(key) == field || key.substr(field.size()) == ".note");
}

}  // namespace

std::string_view field_of(std::string_view key) {
    for (const std::string_view part : {".value", ".origin", ".tolerance"}) {
        if (key.ends_with(part)) return key.substr(0, key.size() - part.size());
    }
    return key;
}

Edits with_field(Edits edits, std::string_view key, std::string_view value, std::string_view origin) {
    const std::string own(key);
    const auto last = std::find_if(edits.sets.rbegin(), edits.sets.rend(), [&](const std::string& s) { return key_of(s) == key || is_part_of(key_of(s), key); });
    const bool has_parts = last != edits.sets.rend() && key_of(*last) != key;
    if (value.empty() || (origin.empty() && !has_parts)) {
        std::erase_if(edits.sets, [&](const std::string& s) { return is_part_of(key_of(s), key); });
        return with_value(std::move(edits), key, value);
    }
    // An error that was said belongs to the value before where the new one brings its own, or comes from elsewhere.
    const bool own_error = !origin.empty() || value.find("+-") != std::string_view::npos;
    std::erase_if(edits.sets, [&](const std::string& s) { return key_of(s) == key || (own_error && key_of(s) == own + ".tolerance"); });
    edits = with_value(std::move(edits), own + ".value", value);
    return origin.empty() ? edits : with_value(std::move(edits), own + ".origin", origin);
}

Edits without_field(Edits edits, std::string_view key) {
    std::erase_if(edits.sets, [&](const std::string& s) { return key_of(s) == key || is_part_of(key_of(s), key); });
    return edits;
}

Edits without_values(Edits edits, std::string_view prefix) {
    std::erase_if(edits.sets, [&](const std::string& s) { return key_of(s).starts_with(prefix); });
    return edits;
}

std::vector<std::string> list_options(const Edits& edits) {
    std::vector<std::string> options;
    if (!edits.rules.empty()) options.push_back("--rules " + quote(edits.rules));
    for (const std::string& set : edits.sets) options.push_back("--set " + quote(set));
    return options;
}

std::string join_options(const Edits& edits) {
    std::string text;
    for (const std::string& option : list_options(edits)) text += (text.empty() ? "" : " ") + option;
    return text;
}

}  // namespace hitchwright
