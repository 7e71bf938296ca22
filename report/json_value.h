// A small tree of values to be written as JSON, so that the JSON library stays in one file.
//
// Objects keep the order in which keys were added. A number that is not finite becomes null and is given a reason.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace hitchwright {

class JsonValue;
using JsonArray = std::vector<JsonValue>;
using JsonMembers = std::vector<std::pair<std::string, JsonValue>>;

/// null, flag, whole number, number, text, list or object.
class JsonValue {
public:
    JsonValue() = default;
    JsonValue(bool flag) : data_(flag) {}
    JsonValue(int number) : data_(number) {}
    JsonValue(double number) : data_(number) {}
    JsonValue(std::string text) : data_(std::move(text)) {}
    JsonValue(std::string_view text) : data_(std::string(text)) {}
    JsonValue(const char* text) : data_(std::string(text)) {}
    JsonValue(JsonArray list) : data_(std::move(list)) {}
    JsonValue(JsonMembers members) : data_(std::move(members)) {}

    const std::variant<std::monostate, bool, int, double, std::string, JsonArray, JsonMembers>& data() const {
        return data_;
    }

private:
    std::variant<std::monostate, bool, int, double, std::string, JsonArray, JsonMembers> data_;
};

/// Builds an object key by key.
class JsonObject {
public:
    /// Adds a value that is always known.
    JsonObject& add(std::string_view key, JsonValue value);
    /// Adds a number; not finite: null, and KEY_reason says so.
    JsonObject& number(std::string_view key, double value);
    /// Adds null, and why under KEY_reason.
    JsonObject& unknown(std::string_view key, std::string_view reason);
    /// Lengths in m as mm, angles in rad as deg; the key gets the unit: "gap" becomes "gap_mm".
    JsonObject& length(std::string_view key, double metres);
    JsonObject& angle(std::string_view key, double radians);

    JsonValue build() { return JsonValue(std::move(members_)); }

private:
    JsonMembers members_;
};

}  // namespace hitchwright
