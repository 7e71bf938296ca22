// Specification lists from files.
#include "presets/specification_list.h"

#include "presets/field_reader.h"
#include "presets/file_header.h"
#include "presets/key_list.h"
#include "presets/toml_reader.h"

namespace hitchwright {
namespace {

// A line without a name, or without anything asked for, is of no use to anybody.
void check_lines(const SourceNode& root, const SpecificationList& list, ReadContext& context) {
    const SourceNode* node = root.find("line");
    if (node == nullptr || node->members.size() != list.lines.size()) {
        return;
    }
    for (std::size_t i = 0; i < list.lines.size(); ++i) {
        const SourceNode& item = node->members[i];
        const std::string path = "line[" + std::to_string(i + 1) + "]";
        if (item.find("name") == nullptr) {
            add_problem(context, item, path + ".name", "this line has no name", {}, "name = \"...\"");
        }
        if (item.find("specification") == nullptr && item.find("length") == nullptr) {
            add_problem(context, item, path, "this line asks for nothing", {}, "specification = \"...\" or length = \"4 in +- 1/8 in\"");
        }
    }
}

}  // namespace

SpecificationList read_specification_list(std::string_view text, const std::string& file, std::vector<Problem>& problems) {
    SpecificationList list;
    ParsedToml parsed = parse_toml(text, file);
    problems.insert(problems.end(), parsed.problems.begin(), parsed.problems.end());
    if (!parsed.ok()) {
        return list;
    }
    const FileHeader header = read_header(parsed.root, FileKind::specification_list, file, Origin::measured, problems);
    if (!header.readable) {
        return list;
    }
    FieldNotes notes;
    ReadContext context{header.file, problems, notes};
    context.all_keys = [] { return list_keys<SpecificationList>(); };
    FieldReader reader(parsed.root, {}, context);
    for (const std::string& key : header_keys()) {
        reader.leave(key.c_str());
    }
    visit_fields(list, reader);
    reader.finish();
    check_lines(parsed.root, list, context);
    sort_problems(problems);
    return list;
}

}  // namespace hitchwright
