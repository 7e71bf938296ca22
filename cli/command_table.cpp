#include "cli/command_table.h"

#include <algorithm>
#include <array>

namespace hitchwright {
namespace {

constexpr std::array<OptionSpec, 61> options = {{
    {"--explain", "", "",
     "behind each finding: the formula, the numbers put in, and where the limit comes from (JSON always has them)"},
    {"--trust", "", "",
     "how sure each number is: its error band, the chance that its limit is broken, the readings behind it; what direct readings say of the model; what to measure next (JSON always has them); with random draws wherever slopes do not do"},
    {"--how-far", "", "KEY",
     "how far a reading may be off, down and up, before the verdict is another one: its key, the beginning of several, or "
     "all; all takes a while",
     true},
    {"--closed", "", "LENGTH", "closed length of the shaft, pushed fully home"},
    {"--tractor-tube", "", "LENGTH", "free tube of the tractor half: from where it leaves yoke or bell to its end"},
    {"--implement-tube", "", "LENGTH", "free tube of the implement half"},
    {"--overlap", "", "LENGTH", "overlap of the tubes with the shaft pushed fully home; equal halves are then assumed"},
    {"--shortest", "", "LENGTH", "shortest distance over the whole travel of the lift"},
    {"--longest", "", "LENGTH", "longest distance over the whole travel of the lift"},
    {"--reading", "", "HEIGHT=LENGTH",
     "instead of --shortest and --longest: ball height, and the distance from stub to input shaft taped there; at the lowest, "
     "a middle and the highest height, or at more",
     true},
    {"--between", "", "POINTS",
     "between which points closed, shortest and longest were all taken: joint_centres (default), locking_grooves or "
     "shaft_ends"},
    {"--seen", "", "TEXT",
     "what is seen at the machine, in words: \"tail 3 in low at working height\", \"shaft knocks when raised\", \"gap is 1/2 in\"",
     true},
    {"--all", "", "", "every change, those too that cannot be the cause, with what they would give"},
    {"--wish", "", "WISH",
     "what the holes are chosen for: general (default), level-carry, tail-high, most-lift or shallow-joints"},
    {"--depth", "", "LENGTH", "depth of the ditch; a ridge or bank is negative"},
    {"--bottom-width", "", "LENGTH", "width of its bottom, or of the ridge's top, square to the ditch"},
    {"--side-slope", "", "ANGLE", "slope of its sides against level"},
    {"--crossing-angle", "", "ANGLE", "between the way and the line of the ditch; square is 90 deg"},
    {"--steps", "", "N", "heights to show, both ends of the travel included: 2 to 1001; default 11"},
    {"--output", "-o", "FILE",
     "file to write; its ending decides: .svg, .pdf, .png or .html. A file of that name is replaced"},
    {"--view", "", "VIEW",
     "side: the machines from the left (default); plan: from above; of mounted implements rear: from behind, with roll, edge heights, lift rods and tyre "
     "room, and travel: pitch, tail height, shaft length, joint angles, overlap and lift over ball height; of drawn implements envelope: turn against "
     "pitch with the limits, and ditch: the worst place on the way across it"},
    {"--height", "", "LENGTH", "ball height of the solid position; default the working height"},
    {"--sway", "", "LENGTH", "with --view rear: how far the balls have swung to the right; to the left is negative; default centred"},
    {"--caption", "", "TEXT", "a line of your own under the header: customer, date, machine"},
    {"--blank", "", "", "leave out the values the set-up has so far: to take every reading without knowing the last"},
    {"--ask", "", "", "ask for everything that is not on the command line"},
    {"--name", "", "TEXT", "name of the set-up"},
    {"--tractor", "", "NAME", "tractor to use, by name or path; measured: your own, all keys to be filled in"},
    {"--implement", "", "NAME", "implement to use, by name or path; measured: your own, all keys to be filled in"},
    {"--driveline", "", "NAME",
     "driveline to use, by name or path; measured: your own; none: no shaft, and a measured implement without PTO input"},
    {"--paper", "", "SIZE", "a4 or letter; default letter with --units in, a4 with --units mm"},
    {"--kind", "", "KIND",
     "tractor, implement, driveline, setup, rules or specification_list, where a name exists in several"},
    {"--list", "", "NAME", "specification list to add, by name or path", true},
    {"--read", "", "TEXT", "text of a code, as a reader of QR codes gives it, in quotes; - takes it from the input"},
    {"--worksheet", "", "", "for teaching: targets are left out, readings have errors or a fault is set in, the key stands on a page of its own"},
    {"--seed", "", "N", "with --worksheet: which one; the same number gives the same sheet; default 1"},
    {"--to", "", "FOLDER", "folder to copy into; default: the working folder. A file that exists is never overwritten"},
    {"--rules", "", "NAME",
     "rule set to judge by: a name from \"rules list\", or a path; default: the set-up's, else general"},
    {"--set", "", "KEY=VALUE",
     "change one value for this run, by its key in the files; a number without a unit is in the unit of the set-up "
     "file",
     true},
    {"--dry-run", "", "", "show what would change, and write nothing"},
    {"--recheck", "", "", "readings taken once more after work: they go into the log, the set-up stays; without values: which to take"},
    {"--after", "", "TIME", "after how much work they are taken: 30 min, 1 h (default), 10 h; means --recheck as well"},
    {"--log", "", "", "print the log of the set-up; KEYs behind SETUP choose entries: tractor, choices.lift_stop"},
    {"--without-log", "", "", "write no entry into the log"},
    {"--date", "", "YYYY-MM-DD", "day of the entries; default: the day of SOURCE_DATE_EPOCH where that is set, else today"},
    {"--by", "", "NAME", "who took the readings"},
    {"--note", "", "TEXT", "a remark on them"},
    {"--switch", "", "WHAT",
     "throw one switch: coupler, link_extender, overrunning_clutch, spline_extender, tyres=NAME (tyres= for its own), upper_link_pin=NAME, "
     "lift_rod_hole=NAME, mast_pin=NAME, drawbar_pin=NAME, driveline=NAME",
     true},
    {"--variants", "", "", "also what is one switch away: add-on parts, other tyres, other holes; takes a whole fit for each"},
    {"--full", "", "", "the whole answer of \"fit\" for each line, as its JSON has it, in place of the brief one"},
    {"--strict", "", "", "exit code 3 where any line has no verdict; all are answered all the same"},
    {"--tractors", "", "WHICH", "names, files or folders of tractors, with commas between; default those of \"presets list\", or SETUP's", true},
    {"--implements", "", "WHICH", "the same for implements", true},
    {"--drivelines", "", "WHICH", "the same for drivelines; none: no shaft", true},
    {"--jobs", "-j", "N", "threads to work with; default all there are. The answer does not depend on it"},
    {"--resume", "", "", "go on with what --output FILE has kept: rows whose inputs are as they were are not computed again"},
    {"--mark", "", "LENGTH",
     "step of the marks cuts are rounded to; default 1/16 in with --units in, 1 mm with --units mm"},
    {"--units", "", "UNIT",
     "in or mm: unit of the answer, and of numbers on the command line without a unit; default in"},
    {"--format", "", "FORM", "text, json or csv; default text"},
    {"--help", "-h", "", "this help"},
    {"--version", "", "", "the version"},
}};

constexpr std::string_view answer_codes =
    "0 it fits; 1 it fits after a change, or must not run; 5 too close to call, or not known; 2 wrong command line; 3 "
    "wrong file or --set; 4 output that cannot be written, or an error of the program.";
constexpr std::string_view cut_codes =
    "0 no cut is needed; 1 a cut makes it fit, or no cut works; 5 too close to call, or not known; 2 wrong command "
    "line; 3 wrong file or --set; 4 output that cannot be written, or an error of the program.";

std::vector<CommandSpec> make_commands() {
    return {
        {"fit",
         "does it fit: every finding, worst first",
         {{"SETUP"}},
         {"--explain", "--trust", "--how-far", "--variants", "--rules", "--set", "--mark", "--units", "--format"},
         "Judges a set-up over the whole travel of the lift: linkage and pitch, shaft length, overlap, joint angles, "
         "clearances, and whether the parts belong together. SETUP is a name from \"presets list setup\" or a path.",
         "  hitchwright fit utility-cutter-fits\n"
         "  hitchwright fit my-setup.toml --explain\n"
         "  hitchwright fit my-setup.toml --trust\n"
         "  hitchwright fit my-setup.toml --how-far tractor.pto.stub_x\n"
         "  hitchwright fit my-setup.toml --set choices.lift_stop=26in --rules close\n",
         answer_codes},
        {"cut",
         "what to cut from the shaft, from a set-up or from numbers",
         {{"SETUP", false}},
         {"--closed", "--tractor-tube", "--implement-tube", "--overlap", "--shortest", "--longest", "--reading",
          "--between", "--rules", "--set", "--mark", "--units", "--format"},
         "With a SETUP: shortest and longest length are computed over the whole travel. Without one: give --closed, "
         "--shortest, --longest, and the two tubes or the closed overlap; or, instead of shortest and longest, --reading three "
         "times or more, as taped from stub to input shaft with the shaft off. Gap and overlap are judged, nothing else: "
         "joint angles, clearances and couplings are a matter of \"fit\".\n\n"
         "All lengths must be taken between the same points. The least cut is rounded up to a mark and the most down.",
         "  hitchwright cut compact-tiller-bottoms-out\n"
         "  hitchwright cut --closed 43in --tractor-tube 26in --implement-tube 26in \\\n"
         "      --shortest \"38 7/8in\" --longest 46in\n"
         "  hitchwright cut --units mm --closed 1092 --overlap 660 \\\n"
         "      --shortest 987 --longest 1168 --rules close\n"
         "  hitchwright cut --closed 31in --tractor-tube 19.5in --implement-tube 19.5in \\\n"
         "      --reading 8in=28-15/16in --reading 17in=29-3/4in --reading 27in=30-7/16in\n",
         cut_codes},
        {"sweep",
         "a table over the travel: pitch, lengths, gap, overlap, angles",
         {{"SETUP"}},
         {"--steps", "--rules", "--set", "--units", "--format"},
         "One line for each height of the lower hitch points. The table is for looking; what \"fit\" judges is "
         "bounded over every height in between.",
         "  hitchwright sweep compact-tiller-bottoms-out --steps 21\n"
         "  hitchwright sweep my-setup.toml --format csv --units mm\n",
         {}},
        {"draw",
         "a picture to scale: SVG, PDF, PNG or HTML",
         {{"SETUP"}},
         {"--output", "--view", "--height", "--sway", "--caption", "--paper", "--rules", "--set", "--mark", "--units", "--format"},
         "The side view in working position with the lifted position behind it, the shaft at its shortest and "
         "longest, the verdict and the cautions that apply; or the machine from above or from behind, or lines over the travel.",
         "  hitchwright draw compact-tiller-bottoms-out -o side.svg\n"
         "  hitchwright draw my-setup.toml -o side.pdf --paper a4 --caption \"north yard\"\n"
         "  hitchwright draw compact-tiller-bottoms-out -o lines.svg --view travel\n"
         "  hitchwright draw compact-rear-blade-tilted -o behind.svg --view rear\n"
         "  hitchwright draw utility-drawn-cutter-short -o chart.svg --view envelope\n"
         "  hitchwright draw utility-drawn-cutter-short -o ditch.svg --view ditch\n",
         {}},
        {"holes",
         "which hole: every combination, its numbers, the first choice and why",
         {{"SETUP"}},
         {"--wish", "--rules", "--set", "--mark", "--units", "--format"},
         "Studies every upper-link hole of the tractor with every hole of the mast. In each the upper link is set for the "
         "working attitude; the rest is judged as \"fit\" judges it, over the whole travel. What cannot work stays listed "
         "with why.",
         "  hitchwright holes compact-box-blade\n"
         "  hitchwright holes my-setup.toml --wish tail-high\n"
         "  hitchwright holes my-setup.toml --format csv --units mm\n",
         "those of \"fit\" with the first choice: 0 it fits; 1 it fits after a change, or no combination may run; 5 too "
         "close to call, or not known; 2 wrong command line; 3 wrong file or --set; 4 output that cannot be written, or "
         "an error of the program."},
        {"trace",
         "from complaint to cause: which single change gives what is seen at the machine",
         {{"SETUP"}},
         {"--seen", "--all", "--rules", "--set", "--units", "--format"},
         "The set-up is what is believed; what is seen contradicts it. Every reading and the usual slips (another hole, a cut "
         "forgotten, a length taken between other points) are tried one at a time: how far out each would have to be, how "
         "plausible that is, and which one reading would tell the two foremost apart.\n\n"
         "--seen, as often as wanted. Measured: tail, front edge or ball height NUMBER high or low; pitch NUMBER nose down or nose "
         "up; shaft NUMBER long or short; each more or less than the set-up says; with \"is\" the value itself: gap is 1/2 in, "
         "tractor.pto.stub_x is 14 in. Then \"at working height\", \"lowest\", \"raised\", or \"at\" a ball height. A number behind +- is the "
         "error it was taken with. Complaints: shaft knocks, shaft comes apart, chatters, tail drags, deck touches shaft, link "
         "will not reach, tyre meets tongue.",
         "  hitchwright trace compact-box-blade --seen \"tail 3 in low at working height\"\n"
         "  hitchwright trace my-setup.toml --seen \"tail 2in low when raised\" \\\n"
         "      --seen \"pitch is 3 deg nose down lowest\" --seen \"shaft knocks when raised\"\n"
         "  hitchwright trace my-setup.toml --seen \"gap is 1/4 in +- 1/8 in\" --all\n",
         "0 nothing need be wrong; 1 a cause was found; 5 no single change gives it, or nothing of it can be reckoned; 2 wrong "
         "command line; 3 wrong file or --set; 4 output that cannot be written, or an error of the program.",
         {{"--format", "FORM", "text or json; default text"}}},
        {"drawbar",
         "which drawbar position: every one side by side, its numbers, the first choice and why",
         {{"SETUP"}},
         {"--rules", "--set", "--mark", "--units", "--format"},
         "For a drawn implement. Studies every [[drawbar_pin]] of the tractor: the shaft over all turns and dips, joints over the "
         "level turn, how the bend is split, vertical load, length, height and drop against the figures for the PTO. Drawbar "
         "first, cut last: a position that needs no cut goes before one that does. Also the lengths of drawbar with which the "
         "shaft serves as it is.",
         "  hitchwright drawbar utility-drawn-cutter-short\n"
         "  hitchwright drawbar my-setup.toml --format csv --units mm\n",
         "0 the first choice takes the shaft as it is; 1 after a cut, or no position does, or none carries the load; 5 not known; 2 wrong command line; 3 "
         "wrong file or --set; 4 output that cannot be written, or an error of the program."},
        {"lines",
         "what was measured against its specification, worst first, and what to turn",
         {{"SETUP"}},
         {"--list", "--rules", "--set", "--units", "--format"},
         "Every [[specification]] of the set-up, every line of the lists it names and of --list, and length, height and drop of a "
         "drawn implement's drawbar: in, out, too close to call (the reading's own error reaches over a limit) or not measured, "
         "which is never in. How far off, how far beyond the band, which way, and how many turns or holes bring it back.",
         "  hitchwright lines utility-cutter-sheet\n"
         "  hitchwright lines my-setup.toml --list pto-driven-mower\n"
         "  hitchwright lines my-setup.toml --list pto-driven-mower \\\n"
         "      --set \"specification[sway].measured=3/8 in\"\n",
         "0 all are in; 1 something is out; 5 something is not measured or too close to call, or there is no line; 2 wrong command "
         "line; 3 wrong file or --set; 4 output that cannot be written, or an error of the program."},
        {"ditch",
         "a drawn machine across a ditch or ridge: what is worst, where, and what still passes",
         {{"SETUP"}},
         {"--depth", "--bottom-width", "--side-slope", "--crossing-angle", "--rules", "--set", "--mark", "--units", "--format"},
         "Tractor and implement stand on their wheels at every place of the way, both ways; backing passes the same places. The "
         "ground is that of the set-up ([choices.ditch] or [[choices.ditch_point]]), or of the options, which are read as the "
         "set-up's keys are: a bare length is in the set-up's unit. The CSV has every station.",
         "  hitchwright ditch utility-drawn-cutter-short\n"
         "  hitchwright ditch my-setup.toml --depth 18in --bottom-width 2ft --side-slope 30deg\n"
         "  hitchwright ditch my-setup.toml --crossing-angle 60deg --format csv\n",
         "0 it passes; 1 it does not; 5 not known, or no ditch is given; 2 wrong command line; 3 wrong file or --set; 4 output "
         "that cannot be written, or an error of the program."},
        {"envelope",
         "what is left at every turn and pitch of a drawn implement",
         {{"SETUP"}},
         {"--steps", "--rules", "--set", "--units", "--format"},
         "A table over turn and pitch, without roll, somewhat wider than what is judged: letters where a limit is broken, and with "
         "--format csv or json the length, margins and angles of every cell.",
         "  hitchwright envelope utility-drawn-cutter-short\n"
         "  hitchwright envelope my-setup.toml --format csv --steps 61 --units mm\n",
         "0 the table was made; 5 not known; 2 wrong command line; 3 wrong file or --set; 4 output that cannot be written, or an "
         "error of the program.",
         {{"--steps", "N", "values each way in csv and json: 2 to 201; default 31"}}},
        {"load",
         "what the tractor lifts, and what its axles carry",
         {{"SETUP"}},
         {"--steps", "--rules", "--set", "--mark", "--units", "--format"},
         "The lift at the implement's own centre of gravity at every height, from a lift curve, the least published lift, or "
         "cylinder and arm, beside what it weighs; where it stalls; the same in every hole. Then the axles with the implement "
         "on the ground and raised, the front axle's share by both definitions, ballast, limits of axles and tyres.",
         "  hitchwright load utility-cutter-fits\n"
         "  hitchwright load my-setup.toml --set \"choices.ballast.front=200 lb\" --steps 21\n"
         "  hitchwright load my-setup.toml --format csv --units mm\n",
         answer_codes,
         {{"--steps", "N", "heights to show, both ends of the travel included: 2 to 1001; default 9"}}},
        {"shafts",
         "which listed shafts fit: as they are, after a cut, or not and why",
         {{"SETUP"}},
         {"--rules", "--set", "--mark", "--units", "--format"},
         "Puts every driveline of \"presets list driveline\" into the set-up, uncut, and judges length, guard tubes, power "
         "and splines over the whole travel; the set-up's own shaft is judged as it is there. The best comes first: fewest "
         "remarks, then most to spare or least to cut. Where none fits as it is, the lengths to order are named: closed, and "
         "in use with the overlap it needs still left.",
         "  hitchwright shafts compact-tiller-bottoms-out\n"
         "  hitchwright shafts my-setup.toml --rules close --format csv\n",
         "0 a listed shaft fits as it is; 1 one fits after a cut, or none fits; 5 too close to call, or not known; 2 wrong "
         "command line; 3 wrong file or --set; 4 output that cannot be written, or an error of the program."},
        {"measure",
         "a blank card of the readings this job needs, in walking order",
         {{"SETUP", false}},
         {"--output", "--blank", "--paper", "--kind", "--set", "--units", "--format"},
         "From where to where, how, with which usual error, and the key to type the reading under. Only what this job "
         "needs is on it: a blade has no shaft to measure, a drawn implement no links. What the set-up has so far stands "
         "in brackets with its origin; what is missing is marked. A set-up that is typed in part is enough; without one give --kind.",
         "  hitchwright measure compact-box-blade\n"
         "  hitchwright measure --kind mounted-pto\n"
         "  hitchwright measure --kind drawn-pto -o card.pdf\n"
         "  hitchwright measure my-setup.toml -o card.pdf --paper a4\n",
         {},
         {{"--output", "FILE",
           "with sketches, to write instead: .pdf, or .html for a browser to print; its numbers are those of the text. A file of that name is replaced"},
          {"--kind", "JOB",
           "without a SETUP: mounted-pto, mounted-blade for an implement without a shaft, or drawn-pto for one on the drawbar"}}},
        {"sheet",
         "the set-up sheet: what to set, to check and to sign at the machine",
         {{"SETUP"}},
         {"--output", "--paper", "--worksheet", "--seed", "--rules", "--set", "--mark", "--units", "--format"},
         "Lines to work through, each with its target, a box to tick, room for what was measured and for initials; the cut "
         "sheet of the shaft, what to read back at three heights, cautions, signatures, and with -o the drawing. Names, "
         "serial numbers and the date come from [job] in the set-up; what is not there is left to be written.",
         "  hitchwright sheet compact-tiller-bottoms-out\n"
         "  hitchwright sheet my-setup.toml -o sheet.pdf --paper a4 --set \"job.technician=K. Field\"\n",
         {},
         {{"--output", "FILE", "to write instead: .pdf, or .html for a browser to print; its lines are those of the text. A file of that name is replaced"}}},
        {"code",
         "a set-up as a text for a QR code, and its files from such a text",
         {{"SETUP", false}},
         {"--read", "--to", "--rules", "--set", "--format"},
         "Prints the text that the code on the sheet holds: the set-up's file and the files of your own it names, without comments, "
         "compressed. With --read the files are written out again; one that exists is never overwritten. Built-in machines are "
         "named, not carried.",
         "  hitchwright code compact-tiller-bottoms-out\n",
         "0 done; 2 wrong command line; 3 wrong file, or no code; 4 output that cannot be written, or an error of the program."},
        {"new",
         "a set-up file of your own, commented, from questions or options",
         {},
         {"--output", "--ask", "--name", "--kind", "--tractor", "--implement", "--driveline", "--rules", "--units", "--format"},
         "On a terminal, and without --tractor, --implement and --driveline, it asks short questions in walking order: "
         "Enter leaves a reading open, ? says what is allowed, < goes back; quit, Ctrl-C or the end of the input writes what "
         "there is. Else the file is made from the options; what they do not say is left to be measured.\n\n"
         "Of a measured machine every key that the kind of job has a use for stands in the file with what it is, from where "
         "to where, its unit and usual error; one without a value stands behind #, what an answer needs first. Of a machine "
         "taken from a file only the keys an answer needs. A file that exists is never overwritten.",
         "  hitchwright new --tractor compact --implement tiller-5 --driveline shaft-31 \\\n      -o tiller.toml\n"
         "  hitchwright new -o blade.toml --implement measured --driveline none --units mm\n"
         "  hitchwright new -o baler.toml --tractor utility --implement round-baler\n"
         "  hitchwright new -o mine.toml --kind drawn-pto\n",
         {},
         {{"--output", "FILE", "file to write; default my-setup.toml. One that exists is never overwritten"},
          {"--kind", "JOB",
           "of a measured implement: mounted-pto (as without it), mounted-blade without a shaft, drawn-pto on the drawbar"},
          {"--rules", "NAME",
           "rule set to judge by: a name from \"rules list\", or a path; default general, of a drawn implement drawn-machine"},
          {"--units", "UNIT", "in or mm: unit of the file, for lengths that state none; default in"}}},
        {"record",
         "readings go back into the file of a set-up; all else in it stays",
         {{"SETUP"}, {"KEY=VALUE", false, true}},
         {"--dry-run", "--recheck", "--after", "--log", "--without-log", "--date", "--by", "--note", "--mark", "--units", "--format"},
         "Writes new values into a set-up file of your own, by their keys, as --set takes them for one run. Only the values "
         "change: comments, order, blank lines, fractions as typed, and what stands beside a value (tolerance, origin, note) "
         "stay byte for byte. A key that stands open behind # loses its # there; another one goes to the end of its table. "
         "A value that comes from a file the set-up uses is overridden in the set-up; that file is not written to.\n\n"
         "All problems come at once, and with any the file stays as it was. A list that stands in a used file, and which "
         "machines are used, cannot be recorded. The file is replaced as a whole; a link stays a link.\n\n"
         "Every value goes into a log beside the set-up as well, NAME.log.toml for NAME.toml: the day, who took it, the "
         "value, the one before. Entries are only added. With --recheck values taken once more go into the log alone, and the "
         "answer says how far each has moved against the error of both readings; without values it lists what to take again.",
         "  hitchwright record my-setup.toml choices.lift_stop=26 --dry-run\n"
         "  hitchwright record my-setup.toml \"tractor.pto.stub_x=11 1/4 in\" \\\n"
         "      \"tractor.pto.stub_z=21 in +- 1/8 in\" --by \"A. Turner\"\n"
         "  hitchwright record my-setup.toml --recheck\n"
         "  hitchwright record my-setup.toml --after 1h choices.lift_stop=26\n"
         "  hitchwright record my-setup.toml --log tractor\n",
         "0 written, or nothing to write; 1 with --recheck: something has moved; 2 wrong command line; 3 a wrong file, key or "
         "value; 4 a file or output that cannot be written, or an error of the program.",
         {{"--units", "UNIT", "in or mm: unit of the sentences of the answer; default in. A value without a unit is in the unit of the file"},
          {"--format", "FORM", "text or json; --log also csv; default text"}}},
        {"compare",
         "before and after: what another part, tyres, hole or shaft changes, or two set-ups question by question",
         {{"SETUP"}, {"OTHER", false}},
         {"--switch", "--rules", "--set", "--mark", "--units", "--format"},
         "SETUP alone: everything that is one switch away from it, with the verdict before and after, what flips, and what the "
         "numbers do: add-on parts put on or taken off, other tyres, other holes and positions, and the shafts of the library. All else "
         "stays; where no length of the upper link is typed it is set anew for the working pitch.\n\n"
         "With --switch, once or more: the set-up (A) against itself with those switches thrown (B). With OTHER: SETUP (A) against OTHER "
         "(B). Then every finding of both stands in one table, those too that stay the same. Which values differ: \"diff\".",
         "  hitchwright compare utility-cutter-fits\n"
         "  hitchwright compare compact-tiller-bottoms-out --switch driveline=shaft-28\n"
         "  hitchwright compare my-setup.toml --switch upper_link_pin=1 --switch tyres=turf --format csv\n"
         "  hitchwright compare utility-cutter-wrong-hole utility-cutter-fits\n",
         "0 no finding differs; 1 some finding differs; 2 wrong command line; 3 wrong file or --set; 4 output that cannot be written, or "
         "an error of the program."},
        {"batch",
         "a set-up a line in, an answer a line out, as JSON",
         {},
         {"--full", "--strict", "--jobs", "--rules", "--set", "--mark", "--units"},
         "Each line of the input is a JSON object: {\"id\": ANY, \"setup\": NAME, \"set\": {KEY: VALUE}, \"rules\": NAME}, or in place of "
         "\"setup\" a whole set-up with the tables and keys of a file. Each line of the output is the answer to the line in the same place: "
         "{\"line\": N, \"id\": ANY, \"verdict\": ...}, or {\"line\": N, \"id\": ANY, \"errors\": [...]} with every problem at once. A bad line "
         "stops nothing. Memory does not grow with the input. Ctrl-C ends after the lines under way.\n\n"
         "For GNU parallel, Slurm and Spark: docs/batches.md. Keys of the answers: docs/json.md.",
         "  hitchwright batch < setups.jsonl\n"
         "  hitchwright batch --full --jobs 4 --rules close < setups.jsonl\n",
         "0 every line is answered, whatever its verdict, errors too; 3 with --strict: a line has errors; 2 wrong command line, a key that no set-up "
         "has, or rules that cannot be read; 4 input that cannot be read, output that cannot be written, a closed pipe, or an error of the program; "
         "130 ended by Ctrl-C.",
         {{"--rules", "NAME", "rule set for lines that name none: a name from \"rules list\", or a path"},
          {"--set", "KEY=VALUE", "change one value in every line; what a line sets itself goes before it"},
          {"--units", "UNIT", "in or mm: unit of the sentences; default in. Numbers are always in mm, deg and kg"}}},
        {"matrix",
         "all tractors with all implements and shafts: what fits",
         {{"SETUP", false}},
         {"--tractors", "--implements", "--drivelines", "--all", "--jobs", "--output", "--resume", "--rules", "--set", "--mark", "--units", "--format"},
         "One row for each combination: the verdict as \"fit\" gives it with the holes that \"holes\" puts first (of a drawn implement the "
         "position of the drawbar that \"drawbar\" does), the length of the upper link, the cut, what the front axle keeps, what is lifted at "
         "the worst height, and the finding that decides. A pair that is not worth trying (category, PTO speed, mast, front axle, "
         "power) is one row with the reason. A file that cannot be read is a row of its own.\n\n"
         "With a SETUP its choices hold for all, and what no option names is its own machine: all implements for one tractor. With "
         "-o the rows are kept in FILE.rows as they are done, and Ctrl-C loses none of them: the same command with --resume goes on, "
         "and computes again only what has changed.",
         "  hitchwright matrix --tractors compact --implements tiller-5 \\\n"
         "      --drivelines shaft-28,shaft-31\n"
         "  hitchwright matrix utility-cutter-fits --drivelines shaft-43 --format csv\n"
         "  hitchwright matrix --tractors compact --implements box-blade-5 -o pairs.txt\n",
         "0 done; 3 done, but a file or the set-up of a row could not be read; 2 wrong command line, a key that no set-up has, or rules that cannot "
         "be read; 4 output that cannot be written, or an error of the program; "
         "130 ended by Ctrl-C.",
         {{"--all", "", "study pairs too that are not worth trying"},
          {"--output", "FILE", "file to write when all is done, in the form of --format. A file of that name is replaced"},
          {"--set", "KEY=VALUE", "change one value in every combination; without a SETUP a number without a unit is in --units"}}},
        {"diff",
         "two set-ups: which values differ, and what that changes",
         {{"OLD"}, {"NEW"}},
         {"--rules", "--mark", "--units", "--format"},
         "Compares two set-ups with everything they use, by value: 11 in and 279.4 mm are the same. A reading differs as well by "
         "its error or its origin. Then the findings: which are new, which are gone, which have another weight or another "
         "number; and the verdict of both.",
         "  hitchwright diff compact-tiller-bottoms-out my-setup.toml\n"
         "  hitchwright diff utility-cutter-wrong-hole utility-cutter-fits --format csv --units mm\n",
         "0 no value and no finding differs; 1 something differs; 2 wrong command line; 3 wrong file; 4 output that cannot be "
         "written, or an error of the program."},
        {"presets", "built-in files and your own", {}, {}, {}, {}, {}},
        {"presets list",
         "list them, all or of one kind",
         {{"KIND", false}},
         {"--format"},
         "KIND is tractor, implement, driveline, setup, rules or specification_list. Files in your own folder come "
         "before built-in ones of the same name: the folder HITCHWRIGHT_PRESETS names, else hitchwright/presets below "
         "XDG_DATA_HOME, else ~/.local/share/hitchwright/presets, with sub-folders tractors, implements, drivelines, "
         "setups, rules.",
         "  hitchwright presets list\n"
         "  hitchwright presets list setup\n",
         {}},
        {"presets show",
         "print one as it is",
         {{"NAME"}},
         {"--kind", "--format"},
         "Prints the text of the file.",
         "  hitchwright presets show compact\n",
         {}},
        {"presets copy",
         "write one out, as a start for your own",
         {{"NAME"}},
         {"--kind", "--to", "--format"},
         "Writes FOLDER/NAME.toml and never overwrites a file. A copy of a machine says origin = \"preset\", so that "
         "its values do not pass for readings; delete that line once you have measured.",
         "  hitchwright presets copy compact\n"
         "  hitchwright presets copy compact-tiller-bottoms-out --to my-setups\n",
         {}},
        {"presets verify",
         "read every file, and close every sensible pair of tractor and implement",
         {},
         {"--units", "--format"},
         "Files of your own folder are read with the built-in ones. A pair is tried when the implement's category is the "
         "tractor's or the next smaller one, the PTO has the speed it asks for, its mast is not too low for the tractor, "
         "a tenth of the tractor's mass stays on the front axle, and the tractor gives half the power it takes; what "
         "nobody has measured speaks for the pair. Each hole of the tractor with each hole of the mast is closed over the "
         "whole travel, with the length of the upper link that gives the working pitch. The tractor's link must reach it.",
         "  hitchwright presets verify\n",
         "0 every pair tried closes; 1 one does not, or the link does not reach; 5 a reading is missing; 2 wrong command "
         "line; 3 a file has problems; 4 output that cannot be written, or an error of the program."},
        {"rules", "rule sets: the limits a fit is judged by", {}, {}, {}, {}, {}},
        {"rules list",
         "list them with their main limits",
         {},
         {"--units", "--format"},
         "Published rules disagree; the set is your choice, and the manual of your shaft goes first.",
         "  hitchwright rules list\n",
         {}},
        {"rules show",
         "every limit of one, with grade and source",
         {{"NAME"}},
         {"--units", "--format"},
         "Grades: A text of a standard seen; B two or more independent secondary sources; C from memory; D "
         "arithmetic; P common practice, no source. What a set leaves out comes from the set general.",
         "  hitchwright rules show general\n"
         "  hitchwright rules show my-rules.toml --units mm\n",
         {}},
        {"completion",
         "a script that lets a shell complete commands, options and names",
         {{"SHELL"}},
         {},
         "SHELL is bash or zsh. For the shell that runs: source <(hitchwright completion bash). An installed program has "
         "the script in its place already. The script asks this program for the names of set-ups and rule sets.",
         "  hitchwright completion bash\n",
         {}},
        {"manual", "this help as a manual page", {}, {}, "Prints the page in the form \"man\" reads: hitchwright manual > hitchwright.1; man ./hitchwright.1",
         "  hitchwright manual\n", {}},
        {"version", "the version", {}, {"--format"}, {}, "  hitchwright version\n", {}},
        {"help",
         "this help, or that of a command",
         {{"COMMAND", false}, {"SUBCOMMAND", false}},
         {},
         {},
         "  hitchwright help cut\n",
         {}},
    };
}

const std::vector<CommandSpec>& commands() {
    static const std::vector<CommandSpec> all = make_commands();
    return all;
}

}  // namespace

std::span<const OptionSpec> option_specs() { return options; }

std::span<const CommandSpec> command_specs() { return commands(); }

const CommandSpec* find_command(std::string_view name) {
    const auto found =
        std::find_if(commands().begin(), commands().end(), [&](const CommandSpec& c) { return c.name == name; });
    return found == commands().end() ? nullptr : &*found;
}

const OptionSpec* find_option(std::string_view name) {
    for (const OptionSpec& option : option_specs()) {
        if (!name.empty() && (option.name == name || option.short_name == name)) return &option;
    }
    return nullptr;
}

bool is_group(const CommandSpec& command) { return command.name == "presets" || command.name == "rules"; }

std::string format_name(const NameSpec& name) {
    const std::string text = std::string(name.name) + (name.repeatable ? " ..." : "");
    return name.required ? text : "[" + text + "]";
}

std::vector<std::string> list_words(std::string_view group) {
    std::vector<std::string> words;
    for (const CommandSpec& command : commands()) {
        const std::size_t space = command.name.find(' ');
        const bool inside = space != std::string_view::npos;
        if (group.empty() && !inside) words.emplace_back(command.name);
        if (inside && command.name.substr(0, space) == group) words.emplace_back(command.name.substr(space + 1));
    }
    return words;
}

}  // namespace hitchwright
