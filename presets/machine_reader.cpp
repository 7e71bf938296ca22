// Explicit instantiations keep the visitors out of every other translation unit.
#include "presets/machine_reader.h"

#include "presets/field_reader.h"
#include "presets/file_header.h"
#include "presets/key_list.h"
#include "presets/machine_kind.h"

namespace hitchwright {

template <class T>
void read_machine_file(T& machine, std::string_view text, const std::string& file, Origin origin,
                       const std::string& note_prefix, Findings& findings) {
    read_machine_file(machine, parse_toml(text, file), file, origin, note_prefix, findings);
}

template <class T>
void read_machine_file(T& machine, const ParsedToml& parsed, const std::string& file, Origin origin, const std::string& note_prefix,
                       Findings& findings) {
    if (!parsed.ok()) {
        findings.problems.insert(findings.problems.end(), parsed.problems.begin(), parsed.problems.end());
        return;
    }
    const FileHeader header = read_header(parsed.root, kind_of<T>, file, origin, findings.problems);
    if (!header.readable) {
        return;
    }
    ReadContext context{header.file, findings.problems, findings.notes, note_prefix};
    context.all_keys = [] { return list_keys<T>(); };
    FieldReader reader(parsed.root, {}, context);
    for (const std::string& key : header_keys()) {
        reader.leave(key.c_str());
    }
    visit_fields(machine, reader);
    reader.finish();
}

template <class T>
void read_machine_table(T& machine, const SourceNode& table, const SourceFile& file, const std::string& prefix, Findings& findings) {
    ReadContext context{file, findings.problems, findings.notes};
    context.all_keys = [] { return list_keys<T>(); };
    context.all_keys_prefix = prefix;
    FieldReader reader(table, prefix, context);
    reader.leave("use");
    visit_fields(machine, reader);
    reader.finish();
}

template void read_machine_file(Tractor&, std::string_view, const std::string&, Origin, const std::string&, Findings&);
template void read_machine_file(Tractor&, const ParsedToml&, const std::string&, Origin, const std::string&, Findings&);
template void read_machine_file(Implement&, std::string_view, const std::string&, Origin, const std::string&, Findings&);
template void read_machine_file(Implement&, const ParsedToml&, const std::string&, Origin, const std::string&, Findings&);
template void read_machine_file(Driveline&, std::string_view, const std::string&, Origin, const std::string&, Findings&);
template void read_machine_file(Driveline&, const ParsedToml&, const std::string&, Origin, const std::string&, Findings&);
template void read_machine_table(Tractor&, const SourceNode&, const SourceFile&, const std::string&, Findings&);
template void read_machine_table(Implement&, const SourceNode&, const SourceFile&, const std::string&, Findings&);
template void read_machine_table(Driveline&, const SourceNode&, const SourceFile&, const std::string&, Findings&);
template void read_machine_table(Choices&, const SourceNode&, const SourceFile&, const std::string&, Findings&);
template void read_machine_table(Coupler&, const SourceNode&, const SourceFile&, const std::string&, Findings&);
template void read_machine_table(LinkExtender&, const SourceNode&, const SourceFile&, const std::string&, Findings&);
template void read_machine_table(PtoAddOn&, const SourceNode&, const SourceFile&, const std::string&, Findings&);

}  // namespace hitchwright
