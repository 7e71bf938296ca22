// Demo set-ups that are built into the library, loaded and analysed through the installed package, against
// tests/validation/demo_setups.csv (first argument), which a second program made from the equations alone.
#include <geometry/analysis.h>
#include <geometry/angle.h>
#include <presets/load_setup.h>

#include "table.h"

using namespace hitchwright;

int main(int, char** arguments) {
    const Library library{std::string()};
    Comparison comparison;
    for (const Row& row : read_table(arguments[1])) {
        const LoadedSetup loaded = load_setup(row.at("setup"), library);
        for (const Problem& problem : loaded.problems) std::printf("%s\n", format_problem(problem).c_str());
        if (!loaded.ok()) return 1;
        const Analysis analysis = analyze_alone(loaded.setup, sixteenth_inch_mark, BandEffort::second_order);
        if (!analysis.linkage) return 1;
        constexpr double inch = 0.0254, length = 2e-5, angle = 2e-4;
        const auto compare_length = [&](const char* column, double value) {
            comparison.compare(column, value / inch, number(row, column), length);
        };
        const auto compare_angle = [&](const char* column, double value) {
            comparison.compare(column, to_degrees(value), number(row, column), angle);
        };
        const LinkageAnalysis& linkage = *analysis.linkage;
        compare_length("upper_link_in", linkage.model.linkage.upper_length);
        compare_angle("pitch_low_deg", linkage.low.pose.pitch);
        compare_angle("pitch_work_deg", linkage.working.pose.pitch);
        compare_angle("pitch_high_deg", linkage.high.pose.pitch);
        if (!analysis.shaft) continue;
        const ShaftExtremes& shaft = analysis.shaft->travel;
        compare_length("shortest_in", shaft.shortest.value);
        compare_length("longest_in", shaft.longest.value);
        compare_angle("joint1_most_deg", shaft.tractor_angle.value);
        compare_angle("joint2_most_deg", shaft.implement_angle.value);
    }
    return comparison.finish(8 * 4 + 7 * 4);  // one set-up has no shaft
}
