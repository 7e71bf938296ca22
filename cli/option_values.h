// Typed values of options. Each wrong one adds a problem and reading goes on, so that a person sees all at once.
#pragma once

#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "cli/arguments.h"
#include "geometry/shaft_cut.h"
#include "report/format_length.h"

namespace hitchwright {

/// Form of an answer.
enum class Form { text, json, csv };

/// Lengths an option takes, SI, both allowed.
struct LengthRange {
    double least = 0.0, most = 0.0;
};

/// Reads the options of one command line.
class OptionReader {
public:
    explicit OptionReader(const Arguments& arguments) : arguments_(arguments) {}

    const std::vector<UsageProblem>& problems() const { return problems_; }
    bool ok() const { return problems_.empty(); }
    void add_problem(UsageProblem problem) { problems_.push_back(std::move(problem)); }

    /// One of the words of an option, or `fallback` when it was not typed.
    template <class T>
    T choice(std::string_view option, const std::vector<std::pair<std::string_view, T>>& words, T fallback) {
        if (!arguments_.has(option)) return fallback;
        std::vector<std::string> known;
        for (const auto& [word, value] : words) {
            if (arguments_.value(option) == word) return value;
            known.emplace_back(word);
        }
        refuse_word(option, known);
        return fallback;
    }

    /// `--format`, of the forms the command has.
    Form form(std::initializer_list<Form> forms);
    /// `--units`.
    UnitSystem units();
    /// `--mark`; by default the usual one of the units.
    Mark mark(UnitSystem units);
    /// A length in range; nothing when it was not typed or is wrong. A bare number is in `units`.
    std::optional<double> length(std::string_view option, UnitSystem units, const LengthRange& range);
    /// A repeatable option of two lengths joined by "=", "8 in=28 15/16 in"; wrong ones are left out.
    std::vector<std::pair<double, double>> length_pairs(std::string_view option, UnitSystem units, const LengthRange& first,
                                                        const LengthRange& second);
    /// A whole number in range, or `fallback`.
    int whole(std::string_view option, int least, int most, int fallback);

private:
    std::optional<double> read_length(std::string_view option, const std::string& typed, UnitSystem units, const LengthRange& range);
    void refuse_word(std::string_view option, const std::vector<std::string>& known);

    const Arguments& arguments_;
    std::vector<UsageProblem> problems_;
};

/// What judging commands have in common.
struct CommonValues {
    Form form = Form::text;
    UnitSystem units = UnitSystem::inch;
    Mark mark;
    std::string rules;              ///< empty: the set-up's
    std::vector<std::string> sets;  ///< each KEY=VALUE
};

/// Reads them; problems stay in `reader`.
CommonValues read_common(OptionReader& reader, const Arguments& arguments, std::initializer_list<Form> forms);

/// The form a command line asks for, as far as it can be told without understanding the rest: for error messages.
Form guess_form(const std::vector<std::string>& args);

/// A failure from usage problems, with the command whose help is worth reading.
Failure make_failure(std::vector<UsageProblem> problems, const CommandSpec* command);

}  // namespace hitchwright
