// Defaults. Grade P: common practice, no source. Tolerances of assumed values are judgement and wide.
#include "presets/defaults.h"

#include <string>

#include "geometry/visit_readings.h"

namespace hitchwright {
namespace {

constexpr double inch = field::inch;
constexpr double degree = field::degree;

constexpr DefaultValue values[] = {
    {"tractor.lift_rod.pin_off_link", 0, inch / 4, Grade::P,
     "lift-rod pin on the line from front pin to ball, as on most lower links", "tractor.lift_rod.length"},
    {"tractor.lift_rod.free_rise", 0, inch / 4, Grade::P,
     "no slot in lift rod or ball end; a float slot in use would add its free rise", "tractor.lift_rod.length"},
    {"tractor.pto.stub_y", 0, inch / 2, Grade::P, "PTO stub in the middle of the tractor, where most are", "tractor.pto.stub_x"},
    {"tractor.pto.stub_slope", 0, degree, Grade::P, "PTO stub level on a level floor, as most are", "tractor.pto.stub_x"},
    {"tractor.pto.stub_plan_angle", 0, degree, Grade::P, "PTO stub straight to the rear", "tractor.pto.stub_x"},
    {"implement.mast_pin[].offset", 0, inch / 2, Grade::P, "upper pin straight above the lower pins, as category drawings show it",
     ""},
    {"implement.pic.y", 0, inch / 2, Grade::P, "input shaft in the middle between the lower pins", "implement.pic.x"},
    {"implement.pic.slope", 0, degree, Grade::P, "input shaft square to the mast: level when the implement is level",
     "implement.pic.x"},
    {"implement.pic.plan_angle", 0, degree, Grade::P, "input shaft straight to the front", "implement.pic.x"},
    {"implement.work.pitch", 0, 0, Grade::P, "the implement is to run level; type its stated pitch where it is not", ""},
    {"implement.ground_contact[].radius", 0, 0, Grade::D, "no radius given: a skid or edge, which touches at the point itself", ""},
    {"driveline.shaft.yoke_phase_error", 0, 2 * degree, Grade::P,
     "inner yokes in one plane, as the tubes allow; look along the shaft", "driveline.shaft.closed_length"},
    {"driveline.tractor_joint.offset", 1.25 * inch, inch / 2, Grade::P,
     "about 1 1/4 in from the end of the stub to the joint centre (judgement)", "driveline.shaft.closed_length"},
    {"driveline.implement_joint.offset", 1.25 * inch, inch / 2, Grade::P,
     "about 1 1/4 in from the end of the input shaft to the joint centre (judgement)", "driveline.shaft.closed_length"},
    {"coupler.hook_rise", 0, inch / 2, Grade::P, "lower hooks level with the coupler's own lower pins", "coupler.set_back"},
    {"coupler.hook_offset", 0, inch / 2, Grade::P, "top hook straight above the lower hooks", "coupler.hook_height"},
    {"coupler.pin_offset", 0, inch / 2, Grade::P, "the coupler's pin of the upper link straight above its own lower pins", "coupler.pin_height"},
};

// "tractor.upper_link_pin[2].z" -> "tractor.upper_link_pin[].z"; brackets inside a name do no harm, since
// the last closing bracket counts.
std::string without_names(const std::string& key) {
    const std::size_t open = key.find('['), close = key.rfind(']');
    return open == std::string::npos || close == std::string::npos ? key : key.substr(0, open + 1) + key.substr(close);
}

const DefaultValue* find_default(const std::string& key) {
    const std::string plain = without_names(key);
    for (const DefaultValue& value : values) {
        if (value.key == plain) {
            return &value;
        }
    }
    return nullptr;
}

bool is_known(Setup& setup, std::string_view wanted) {
    bool known = wanted.empty();
    visit_readings(setup, [&](const std::string& key, Reading& reading, const FieldSpec&) {
        known = known || (key == wanted && reading.known);
    });
    return known;
}

}  // namespace

std::span<const DefaultValue> default_values() { return values; }

void fill_defaults(Setup& setup, FieldNotes& notes) {
    visit_readings(setup, [&](const std::string& key, Reading& reading, const FieldSpec&) {
        const DefaultValue* value = reading.known ? nullptr : find_default(key);
        if (value == nullptr || !is_known(setup, value->needs)) {
            return;
        }
        reading = make_reading(value->value, Origin::assumed, value->tolerance);
        FieldNote note;
        note.note = std::string(value->reason);
        note.by_default = true;
        note.grade = value->grade;
        notes[key] = note;
    });
}

}  // namespace hitchwright
