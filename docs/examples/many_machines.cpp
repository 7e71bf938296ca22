// Many machines: one machine drawn many times within the errors of its readings, and a list of set-ups on several
// threads.
#include <geometry/analysis.h>
#include <geometry/angle.h>
#include <geometry/machine_sample.h>
#include <presets/load_setup.h>

#include <algorithm>
#include <atomic>
#include <cstdio>
#include <random>
#include <string>
#include <thread>
#include <vector>

using namespace hitchwright;

namespace {

/// The machine of a loaded set-up in plain numbers, its joints and its travel among them.
SampledMachine make_machine(const MountedModel& model) { return {model.linkage, model.ends, model.travel}; }

/// The value below which a share of the others lies.
double quantile(std::vector<double> values, double share) {
    std::sort(values.begin(), values.end());
    return values[static_cast<std::size_t>(share * static_cast<double>(values.size() - 1))];
}

/// Lengths drawn with 3 mm of error (two sigma) at eight places; how far apart shortest and longest shaft then lie.
void study_errors(const SampledMachine& machine) {
    std::mt19937 random(2026);
    std::normal_distribution<double> error(0.0, 0.0015);
    std::vector<SampledMachine> machines(20000, machine);
    for (SampledMachine& m : machines) {
        for (double* length : {&m.linkage.lower_pivot.x(), &m.linkage.lower_pivot.y(), &m.linkage.upper_pin.x(),
                               &m.linkage.upper_pin.y(), &m.ends.tractor_joint.x, &m.ends.tractor_joint.z,
                               &m.ends.implement_joint.x, &m.ends.implement_joint.z})
            *length += error(random);
    }
    std::vector<SweepExtremes> extremes(machines.size());
    sweep_machines(machines, 64, std::max(1U, std::thread::hardware_concurrency()), extremes);
    std::vector<double> shortest, longest;
    for (const SweepExtremes& e : extremes) {
        if (e.shafts == 0) continue;  // closes nowhere
        shortest.push_back(e.least_length);
        longest.push_back(e.greatest_length);
    }
    std::printf("%zu machines; shortest shaft %.0f to %.0f mm, longest %.0f to %.0f mm, in 95 of 100\n",
                shortest.size(), 1000.0 * quantile(shortest, 0.025), 1000.0 * quantile(shortest, 0.975),
                1000.0 * quantile(longest, 0.025), 1000.0 * quantile(longest, 0.975));
}

/// Analyses every set-up, each on the next thread that is free. Each thread reads its own set-up and writes its own
/// answer.
std::vector<Analysis> analyze_all(const std::vector<Setup>& setups) {
    std::vector<Analysis> answers(setups.size());
    std::atomic<std::size_t> next{0};
    std::vector<std::jthread> threads;
    for (unsigned i = 0; i < std::max(1U, std::thread::hardware_concurrency()); ++i) {
        threads.emplace_back([&] {
            for (std::size_t at = next++; at < setups.size(); at = next++)
                answers[at] = analyze_alone(setups[at], millimetre_mark, BandEffort::second_order);
        });
    }
    threads.clear();  // waits for all of them
    return answers;
}

}  // namespace

int main() {
    const Library library{std::string()};  // the built-in presets alone
    const LoadedSetup tiller = load_setup("compact-tiller-bottoms-out", library);
    if (!tiller.ok()) return 3;
    const MountedModelResult built = make_mounted_model(tiller.setup);
    if (!built.linkage_ok || !built.model.has_shaft) return 1;
    study_errors(make_machine(built.model));

    // Each implement on a PTO behind each tractor, in each hole of the tractor.
    std::vector<Setup> setups;
    std::vector<std::string> names;
    for (const char* tractor : {"compact", "utility"}) {
        for (const char* implement : {"tiller-5", "rotary-cutter-7"}) {
            for (const char* hole : {"1", "2", "3"}) {
                const LoadedSetup loaded = load_setup(
                    "compact-tiller-bottoms-out", library,
                    {.sets = {std::string("tractor.use=") + tractor, std::string("implement.use=") + implement,
                              std::string("choices.upper_link_pin=") + hole},
                     .rules = ""});
                if (!loaded.ok()) continue;
                setups.push_back(loaded.setup);
                names.push_back(std::string(tractor) + ", " + implement + ", hole " + hole);
            }
        }
    }
    const std::vector<Analysis> answers = analyze_all(setups);
    for (std::size_t i = 0; i < answers.size(); ++i) {
        const Analysis& answer = answers[i];
        std::printf("%-34s", names[i].c_str());
        if (answer.shaft)
            std::printf("  shaft %4.0f to %4.0f mm", 1000.0 * answer.shaft->travel.shortest.value,
                        1000.0 * answer.shaft->travel.longest.value);
        std::printf("  %s: %s\n", std::string(verdict_word(answer.verdict)).c_str(),
                    std::string(finding_word(answer.findings.front().kind)).c_str());
    }
}
