// Unknown keys.
#include "presets/field_reader.h"

#include "presets/value_parts.h"

namespace hitchwright {
namespace {

// A key that exists in another table ("stub_x" written outside [pto]), as a full path.
std::string find_elsewhere(const std::string& key, const ReadContext& context) {
    if (context.all_keys == nullptr) {
        return {};
    }
    const std::vector<std::string> all = context.all_keys();
    for (const std::string& path : all) {
        const std::size_t dot = path.rfind('.');
        if (dot != std::string::npos && path.substr(dot + 1) == key) {
            return context.all_keys_prefix + path;
        }
    }
    return {};
}

}  // namespace

void refuse_unknown_keys(const SourceNode& table, const std::string& prefix, const std::vector<std::string>& known,
                         ReadContext& context) {
    for (const SourceNode& member : table.members) {
        if (std::find(known.begin(), known.end(), member.key) != known.end()) {
            continue;
        }
        // The exact key in another table beats a similar one in this table.
        std::string nearest = find_elsewhere(member.key, context);
        if (nearest.empty()) {
            nearest = nearest_word(member.key, known);
            nearest = nearest.empty() ? nearest : prefix + nearest;
        }
        SourceNode at_key = member;
        at_key.members.clear();
        at_key.line = member.key_line;
        at_key.column = member.key_column;
        add_problem(context, at_key, prefix + member.key, "there is no such key here", {},
                    nearest.empty() ? join_words(known) : std::string{}, nearest);
    }
}

}  // namespace hitchwright
