// A set-up file is loaded, readings are changed, the set-up is analysed: verdict, findings with their
// cautions, and the cut of the shaft. The first argument is the file.
#include <geometry/analysis.h>
#include <geometry/angle.h>
#include <presets/load_setup.h>
#include <report/caution_text.h>

#include <cstdio>
#include <string>

using namespace hitchwright;

namespace {

/// A number of a finding in mm or deg; other dimensions stay in SI.
std::string show(Dimension dimension, double value) {
    char text[40];
    if (dimension == Dimension::length)
        std::snprintf(text, sizeof text, "%.1f mm", 1000.0 * value);
    else if (dimension == Dimension::angle)
        std::snprintf(text, sizeof text, "%.1f deg", to_degrees(value));
    else
        std::snprintf(text, sizeof text, "%.4g", value);
    return text;
}

void print_findings(const Analysis& analysis) {
    std::printf("verdict: %s\n", std::string(verdict_word(analysis.verdict)).c_str());
    for (const Finding& f : analysis.findings) {
        if (f.severity == Severity::good) continue;
        std::printf("  %s %s", std::string(severity_word(f.severity)).c_str(),
                    std::string(finding_word(f.kind)).c_str());
        if (!f.subject.empty()) std::printf(" (%s)", f.subject.c_str());
        std::printf(": %s", show(f.dimension, f.value).c_str());
        if (f.has_limit) std::printf(", limit %s", show(f.dimension, f.limit).c_str());
        if (f.band > 0.0) std::printf(", give or take %s", show(f.dimension, f.band).c_str());
        if (f.has_height) std::printf(", at ball height %s", show(Dimension::length, f.height).c_str());
        std::printf("\n");
        for (const Caution caution : f.cautions)
            std::printf("    ! %s\n", std::string(caution_sentence(caution)).c_str());
    }
}

}  // namespace

int main(int count, char** arguments) {
    if (count != 2) return 2;
    const Library library = open_library();  // the user's own presets first, then those built in

    // What is wrong with a file or a value comes back as a list, all of it at once.
    for (const Problem& problem :
         load_setup(arguments[1], library, {.sets = {"choices.lift_stp=650 mm"}, .rules = ""}).problems)
        std::printf("%s\n", format_problem(problem).c_str());

    const LoadedSetup loaded = load_setup(arguments[1], library);
    for (const Problem& problem : loaded.problems) std::printf("%s\n", format_problem(problem).c_str());
    if (!loaded.ok()) return 3;
    Setup setup = loaded.setup;
    Analysis analysis = analyze(setup, millimetre_mark);
    std::printf("%s\n", setup.name.c_str());
    print_findings(analysis);

    if (analysis.shaft && analysis.shaft->has_plan && analysis.shaft->plan.answer == CutAnswer::cut_to_aim) {
        const CutPlan& plan = analysis.shaft->plan;
        std::printf("shaft from %.1f to %.1f mm; cut %.0f mm from the tractor's half, %.0f mm from the implement's\n",
                    1000.0 * analysis.shaft->travel.shortest.value, 1000.0 * analysis.shaft->travel.longest.value,
                    1000.0 * plan.recommended.a, 1000.0 * plan.recommended.b);
        // Readings are plain members, in SI: the cut is made, and the height of the lift's stop read once more.
        setup.choices.cut_tractor_half = make_reading(plan.recommended.a, Origin::measured, 0.001);
        setup.choices.cut_implement_half = make_reading(plan.recommended.b, Origin::measured, 0.001);
    }
    setup.choices.lift_stop = make_reading(0.600, Origin::measured, 0.003);
    std::printf("\nafter the cut, the lift stopped at 600 mm\n");
    print_findings(analyze(setup, millimetre_mark));
}
