// Compares the keys of a JSON answer with the tables of docs/json.md, both ways.
#pragma once

#include <catch2/catch.hpp>

#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <vector>

#include "report/json_writer.h"

namespace hitchwright::test {

using Json = nlohmann::json;

/// Dotted paths of all keys, list items as [].
inline void collect(const Json& json, const std::string& path, std::set<std::string>& paths) {
    if (json.is_array()) {
        for (const Json& item : json) collect(item, path + "[]", paths);
    }
    if (!json.is_object()) return;
    for (const auto& [key, item] : json.items()) {
        const std::string here = path.empty() ? key : path + "." + key;
        if (!key.ends_with("_reason")) paths.insert(here);
        collect(item, here, paths);
    }
}

struct DocumentedKey {
    std::string key, type;
};
using Shapes = std::map<std::string, std::vector<DocumentedKey>>;

/// Tables of docs/json.md by the heading above them.
inline Shapes read_shapes() {
    std::ifstream file(std::string(HITCHWRIGHT_SOURCE_DIR) + "/docs/json.md");
    REQUIRE(file);
    Shapes shapes;
    std::string heading;
    for (std::string line; std::getline(file, line);) {
        if (line.starts_with("#")) heading = line.substr(line.find(' ') + 1);
        if (!line.starts_with("| `") || heading == "CSV") continue;
        const std::size_t key_end = line.find('`', 3), type = key_end + 4, type_end = line.find(" |", type);
        REQUIRE(type_end != std::string::npos);
        shapes[heading].push_back({line.substr(3, key_end - 3), line.substr(type, type_end - type)});
    }
    return shapes;
}

/// Paths that the documented shape promises, with the shapes it names expanded.
inline void expand(const Shapes& shapes, const std::string& shape, const std::string& path,
                   std::set<std::string>& paths) {
    static const std::set<std::string> plain{"text", "number", "whole number", "flag", "word"};
    REQUIRE(shapes.count(shape) == 1);
    for (const DocumentedKey& k : shapes.at(shape)) {
        std::string here = path.empty() ? k.key : path + "." + k.key;
        for (std::size_t dot = here.find('.', path.size() + 1); dot != std::string::npos; dot = here.find('.', dot + 1))
            paths.insert(here.substr(0, dot));
        paths.insert(here);
        std::string type = k.type;
        if (type.ends_with(" or null")) type.erase(type.size() - 8);
        if (type.starts_with("list of ")) type.erase(0, 8), here += "[]";
        if (!plain.count(type)) expand(shapes, type, here, paths);
    }
}

inline std::set<std::string> difference(const std::set<std::string>& a, const std::set<std::string>& b) {
    std::set<std::string> rest;
    for (const std::string& s : a) {
        if (!b.count(s)) rest.insert(s);
    }
    return rest;
}

inline void check_documented(const std::string& text, const std::string& schema) {
    const Json json = Json::parse(text);
    CHECK(json["schema"] == schema);
    CHECK(json["schema_version"] == json_version);
    std::set<std::string> written, documented;
    collect(json, "", written);
    expand(read_shapes(), schema, "", documented);
    CHECK(difference(written, documented) == std::set<std::string>{});
    CHECK(difference(documented, written) == std::set<std::string>{});
}

}  // namespace hitchwright::test
