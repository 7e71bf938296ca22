// Unknown keys.
#include "presets/field_reader.h"

#include "presets/value_parts.h"

namespace hitchwright {
namespace {

/// Finds keys that exist in another table ("stub_x" written outside [pto]), as full paths. The list is made for the first one.
class Elsewhere {
public:
    explicit Elsewhere(const ReadContext& context) : context_(context) {}

    std::string find(std::string_view key) {
        if (context_.all_keys == nullptr) return {};
        if (all_.empty()) all_ = context_.all_keys();
        for (const std::string_view path : all_) {
            const std::size_t dot = path.rfind('.');
            if (dot != std::string_view::npos && path.substr(dot + 1) == key) return context_.all_keys_prefix + std::string(path);
        }
        return {};
    }

private:
    const ReadContext& context_;
    std::vector<std::string> all_;
};

}  // namespace

void refuse_unknown_keys(const SourceNode& table, const std::string& prefix, const std::vector<std::string>& known,
                         ReadContext& context) {
    Elsewhere elsewhere(context);
    for (const SourceNode& member : table.members) {
        if (std::find(known.begin(), known.end(), member.key) != known.end()) {
            continue;
        }
        // The exact key in another table beats a similar one in this table.
        std::string nearest = elsewhere.find(member.key);
        if (nearest.empty()) {
            nearest = nearest_word(member.key, known);
            if (!nearest.empty()) nearest.insert(0, prefix);
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
