// `--set KEY=VALUE` of the command line as a source tree.
//
// Keys are those of a set-up file with their tables: tractor.pto.stub_x=11in, driveline.use=none, rules=close,
// choices.cut_tractor_half=5 5/8 in. An item of a list is named in brackets: tractor.upper_link_pin[2].z=32in.
// Nothing behind the `=` takes the value away, behind an item the whole item: tractor.upper_link_pin[2]=. A + before the
// name makes a new item, which needs all that an item of a file needs: tractor.upper_link_pin[+5].x=14in. Of two for one key
// the later holds.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "presets/problem.h"
#include "presets/source_tree.h"

namespace hitchwright {

/// The name under which problems of the command line stand.
inline constexpr const char* command_line_name = "--set";

/// Longest `--set`, in bytes, and its deepest key.
inline constexpr std::size_t most_override_bytes = 500;
inline constexpr std::size_t most_override_depth = 8;

/// One part of a key: "upper_link_pin" and, in brackets, the name of an item.
struct KeyPart {
    std::string name;
    std::optional<std::string> item;

    bool operator==(const KeyPart&) const = default;
};

/// A KEY=VALUE taken apart, without blanks around key and value.
struct KeyValue {
    std::string key;
    std::vector<KeyPart> parts;
    std::string value;
};

/// Takes one apart; nothing when it is malformed.
std::optional<KeyValue> split_key_value(std::string_view typed);

/// The tree of all `--set`; each malformed one adds a problem and is left out.
SourceNode parse_overrides(const std::vector<std::string>& sets, std::vector<Problem>& problems);

}  // namespace hitchwright
