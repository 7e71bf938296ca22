#include "cli/option_values.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

#include "presets/nearest.h"
#include "presets/quantity.h"

namespace hitchwright {
namespace {

// A mark finer than a machinist's or coarser than an inch is a slip of the finger.
constexpr LengthRange mark_range{0.0001, 0.0254};
constexpr double tenth_of_millimetre = 0.0001;
constexpr std::array<std::pair<std::string_view, Form>, 3> form_words = {
    {{"text", Form::text}, {"json", Form::json}, {"csv", Form::csv}}};

std::string_view unit_word(UnitSystem units) { return units == UnitSystem::inch ? "in" : "mm"; }

// Enough places for the smallest range end in use.
std::string format_range_end(double metres, UnitSystem units) {
    return units == UnitSystem::inch ? fmt::format("{:.4g} in", metres / metres_per_inch)
                                     : fmt::format("{:.4g} mm", metres * 1e3);
}

// "grooves" is many letters away from "locking_grooves" and still plain.
std::string find_nearest(const std::string& typed, const std::vector<std::string>& known) {
    for (const std::string& word : known) {
        if (typed.size() >= 3 && word.find(typed) != std::string::npos) return word;
    }
    return nearest_word(typed, known);
}

}  // namespace

void OptionReader::refuse_word(std::string_view option, const std::vector<std::string>& known) {
    const std::string typed = arguments_.value(option);
    problems_.push_back({std::string(option),
                         fmt::format("{} was read; allowed: {}", in_quotes(typed), join_words(known)),
                         find_nearest(typed, known)});
}

Form OptionReader::form(std::initializer_list<Form> forms) {
    std::vector<std::pair<std::string_view, Form>> words;
    for (const auto& word : form_words) {
        if (std::find(forms.begin(), forms.end(), word.second) != forms.end()) words.push_back(word);
    }
    return choice("--format", words, Form::text);
}

UnitSystem OptionReader::units() {
    return choice<UnitSystem>("--units", {{"in", UnitSystem::inch}, {"mm", UnitSystem::millimetre}}, UnitSystem::inch);
}

Mark OptionReader::mark(UnitSystem units) {
    const Mark usual = units == UnitSystem::inch ? sixteenth_inch_mark : millimetre_mark;
    const std::optional<double> typed = length("--mark", units, mark_range);
    const auto counts = [&typed](double unit) {
        return std::fabs(std::round(*typed / unit) * unit - *typed) <= cut_tolerance;
    };
    if (typed && !counts(sixteenth_inch_mark.step) && !counts(tenth_of_millimetre)) {
        problems_.push_back({"--mark",
                             fmt::format("{} was read; allowed: whole sixteenths of an inch, or whole tenths of a "
                                         "millimetre, since nothing else is on a tape",
                                         in_quotes(arguments_.value("--mark"))),
                             {}});
    }
    return typed ? Mark{*typed} : usual;
}

std::optional<double> OptionReader::length(std::string_view option, UnitSystem units, const LengthRange& range) {
    if (!arguments_.has(option)) return std::nullopt;
    return read_length(option, arguments_.value(option), units, range);
}

std::vector<std::pair<double, double>> OptionReader::length_pairs(std::string_view option, UnitSystem units, const LengthRange& first,
                                                                  const LengthRange& second) {
    std::vector<std::pair<double, double>> pairs;
    const auto typed = arguments_.options.find(option);
    if (typed == arguments_.options.end()) return pairs;
    for (const std::string& text : typed->second) {
        const std::size_t at = text.find('=');
        if (at == std::string::npos) {
            problems_.push_back({std::string(option),
                                 fmt::format("\"{}\" was read; allowed: two lengths joined by \"=\", as in \"8 in=28 15/16 in\"",
                                             escape_text(text, 80)), {}});
            continue;
        }
        const std::optional<double> a = read_length(option, text.substr(0, at), units, first);
        const std::optional<double> b = read_length(option, text.substr(at + 1), units, second);
        if (a && b) pairs.emplace_back(*a, *b);
    }
    return pairs;
}

std::optional<double> OptionReader::read_length(std::string_view option, const std::string& typed, UnitSystem units, const LengthRange& range) {
    const Quantity quantity = parse_quantity(typed, Dimension::length, unit_word(units));
    const std::string shown = escape_text(typed, 80);
    if (!quantity.ok()) {
        problems_.push_back({std::string(option),
                             fmt::format("\"{}\" was read: {}; allowed: {}", shown, quantity.message, quantity.allowed),
                             {}});
        return std::nullopt;
    }
    if (quantity.has_tolerance) {
        problems_.push_back({std::string(option),
                             fmt::format("\"{}\" was read: an error behind +- is not used here; leave it off", shown),
                             {}});
        return std::nullopt;
    }
    if (quantity.value < range.least || quantity.value > range.most) {
        problems_.push_back(
            {std::string(option),
             fmt::format("\"{}\" was read{}; allowed: from {} to {}", shown,
                         quantity.plain ? fmt::format(" (unit from --units: {})", unit_word(units)) : std::string{},
                         format_range_end(range.least, units), format_range_end(range.most, units)),
             {}});
        return std::nullopt;
    }
    return quantity.value;
}

int OptionReader::whole(std::string_view option, int least, int most, int fallback) {
    if (!arguments_.has(option)) return fallback;
    const std::string typed = arguments_.value(option);
    int number = 0;
    const auto [end, error] = std::from_chars(typed.data(), typed.data() + typed.size(), number);
    if (error != std::errc{} || end != typed.data() + typed.size() || number < least || number > most) {
        problems_.push_back(
            {std::string(option),
             fmt::format("\"{}\" was read; allowed: a whole number from {} to {}", escape_text(typed, 80), least, most),
             {}});
        return fallback;
    }
    return number;
}

CommonValues read_common(OptionReader& reader, const Arguments& arguments, std::initializer_list<Form> forms) {
    CommonValues values;
    values.form = reader.form(forms);
    values.units = reader.units();
    values.mark = reader.mark(values.units);
    values.rules = arguments.value("--rules");
    if (arguments.has("--rules") && values.rules.empty()) {
        reader.add_problem({"--rules", "an empty name was read; allowed: a name from \"rules list\", or a path", {}});
    }
    const auto sets = arguments.options.find("--set");
    if (sets != arguments.options.end()) values.sets = sets->second;
    return values;
}

Form guess_form(const std::vector<std::string>& args) {
    Form form = Form::text;
    for (std::size_t i = 0; i < args.size(); ++i) {
        const std::string behind = args[i] == "--format" && i + 1 < args.size() ? args[i + 1] : std::string{};
        if (args[i] == "--format=json" || behind == "json") form = Form::json;
    }
    return form;
}

Failure make_failure(std::vector<UsageProblem> problems, const CommandSpec* command) {
    Failure failure;
    failure.code = exit_code::usage;
    failure.usage = std::move(problems);
    failure.command = command == nullptr ? std::string{} : std::string(command->name);
    return failure;
}

}  // namespace hitchwright
