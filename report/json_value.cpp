// See json_value.h.
#include "report/json_value.h"

#include <cmath>
#include <numbers>

namespace hitchwright {

JsonObject& JsonObject::add(std::string_view key, JsonValue value) {
    members_.emplace_back(std::string(key), std::move(value));
    return *this;
}

JsonObject& JsonObject::number(std::string_view key, double value) {
    if (!std::isfinite(value)) return unknown(key, "not a finite number");
    return add(key, value);
}

JsonObject& JsonObject::unknown(std::string_view key, std::string_view reason) {
    add(key, JsonValue());
    return add(std::string(key) + "_reason", reason);
}

JsonObject& JsonObject::length(std::string_view key, double metres) {
    return number(std::string(key) + "_mm", metres * 1e3);
}

JsonObject& JsonObject::angle(std::string_view key, double radians) {
    return number(std::string(key) + "_deg", radians * 180.0 / std::numbers::pi);
}

}  // namespace hitchwright
