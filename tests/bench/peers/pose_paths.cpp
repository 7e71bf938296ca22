#include "tests/bench/peers/pose_paths.h"

#include <cstddef>
#include <initializer_list>
#include <iomanip>
#include <span>
#include <sstream>

#include "tests/geometry/sample_setup.h"

namespace bench {

using namespace hitchwright;

MountedModel make_pose_model() {
    Setup s = test::make_setup_a();
    s.driveline.closed_length = test::known(0.760);
    return make_mounted_model(s).model;
}

namespace {

Triple list(const Vec3<double>& v) { return {v.x, v.y, v.z}; }

/// A start as a person would give it: in whole hundredths of a radian.
double round_guess(double angle) { return std::round(angle * 100.0) / 100.0; }

PoseProblem make_problem(const MountedModel& m, double low, double high, int poses) {
    const PlanarLinkage& k = m.linkage;
    PoseProblem p{k.lower_pivot.x(), k.lower_pivot.y(), k.lower_length, k.upper_pin.x(), k.upper_pin.y(), k.upper_length,
                  k.mast_pin.x(), k.mast_pin.y(), list(m.ends.tractor_joint), list(m.ends.stub_axis),
                  list(m.ends.implement_joint), list(m.ends.input_axis), 0.0, 0.0, {}};
    for (int i = 0; i < poses; ++i) p.heights.push_back(low + (high - low) * i / (poses - 1));
    const PlanarPose first = solve_pose(k, low);
    p.first_link_angle = round_guess(first.lower_link_angle);
    p.first_pitch = round_guess(first.pitch);
    return p;
}

/// Height of the pose with the implement level, by halving.
double find_level_height(const MountedModel& m) {
    double low = m.travel.low, high = m.travel.high;
    const bool rises = solve_pose(m.linkage, high).pitch > solve_pose(m.linkage, low).pitch;
    for (int i = 0; i < 100; ++i) {
        const double middle = 0.5 * (low + high);
        ((solve_pose(m.linkage, middle).pitch > 0.0) == rises ? high : low) = middle;
    }
    return low;
}

}  // namespace

PoseProblem make_travel_problem(int poses) {
    const MountedModel m = make_pose_model();
    return make_problem(m, m.travel.low, m.travel.high, poses);
}

PoseProblem make_askew_problem(int poses) {
    MountedModel m = make_pose_model();
    m.ends.tractor_joint.y = 0.02;
    return make_problem(m, m.travel.low, m.travel.high, poses);
}

PoseProblem make_problem_from_level(int poses) {
    const MountedModel m = make_pose_model();
    const PlanarPose level = solve_pose(m.linkage, find_level_height(m));
    PoseProblem p = make_travel_problem(poses);
    p.first_link_angle = level.lower_link_angle;
    p.first_pitch = level.pitch;
    return p;
}

std::vector<PoseNumbers> find_reference(const PoseProblem& problem) {
    const MountedModel m = make_pose_model();
    std::vector<PoseNumbers> answers;
    for (const double height : problem.heights) {
        const PlanarPose start = solve_pose(m.linkage, height);
        long double x[2] = {start.lower_link_angle, start.pitch};
        for (int i = 0; i < 4; ++i) {
            long double left[2];
            find_closure(problem, height, x, left);
            const double near[2] = {static_cast<double>(x[0]), static_cast<double>(x[1])};
            const std::array<double, 4> a = find_closure_slopes(problem, near);
            const long double link_step = left[0] / static_cast<long double>(a[0]);
            x[0] -= link_step;
            x[1] -= (left[1] - static_cast<long double>(a[2]) * link_step) / static_cast<long double>(a[3]);
        }
        const std::array<long double, 4> n = find_numbers(problem, x[0], x[1]);
        answers.push_back({static_cast<double>(n[0]), static_cast<double>(n[1]), static_cast<double>(n[2]), static_cast<double>(n[3])});
    }
    return answers;
}

namespace {

class JsonWriter {
public:
    JsonWriter() { text_ << std::setprecision(17); }

    void write(const char* key, std::initializer_list<double> values) { write_list(key, {values.begin(), values.size()}); }
    void write_list(const char* key, std::span<const double> values) {
        text_ << (text_.tellp() > 0 ? ",\n\"" : "{\"") << key << "\": [";
        for (std::size_t i = 0; i < values.size(); ++i) text_ << (i > 0 ? ", " : "") << values[i];
        text_ << "]";
    }
    std::string end() { return text_.str() + "}\n"; }

private:
    std::ostringstream text_;
};

}  // namespace

std::string write_problem_json(const PoseProblem& p) {
    JsonWriter json;
    json.write("lower_pivot", {p.lower_pivot_x, p.lower_pivot_z});
    json.write("upper_pin", {p.upper_pin_x, p.upper_pin_z});
    json.write("mast_pin", {p.mast_pin_x, p.mast_pin_z});
    json.write("link_lengths", {p.lower_length, p.upper_length});
    json.write_list("tractor_joint", p.tractor_joint);
    json.write_list("stub_axis", p.stub_axis);
    json.write_list("implement_joint", p.implement_joint);
    json.write_list("input_axis", p.input_axis);
    json.write("first", {p.first_link_angle, p.first_pitch});
    json.write_list("heights", p.heights);
    std::vector<double> columns[4];
    for (const PoseNumbers& n : find_reference(p)) {
        columns[0].push_back(n.pitch);
        columns[1].push_back(n.length);
        columns[2].push_back(n.tractor_angle);
        columns[3].push_back(n.implement_angle);
    }
    json.write_list("pitch", columns[0]);
    json.write_list("length", columns[1]);
    json.write_list("tractor_angle", columns[2]);
    json.write_list("implement_angle", columns[3]);
    return json.end();
}

}  // namespace bench
