// A code as a phone reads it, or files to be made into one: what begins with HITCHWRIGHT is unpacked, what stands behind
// "PAYLOAD:" is compressed here first (the check sum of the compression lets nothing else through), anything else is the text
// of a file.
//
// Unpacking ends in files or in one printable sentence; packed again they are the same. A file without its comments
// means what it meant, and comes out of a code as it went in.
#include <zlib.h>

#include "presets/base45.h"
#include "presets/setup_code.h"
#include "presets/toml_reader.h"
#include "tests/fuzz/fuzz.h"

using namespace hitchwright;
using fuzz::require;

namespace {

bool means_the_same(const SourceNode& a, const SourceNode& b) {
    if (a.kind != b.kind || a.key != b.key || a.typed != b.typed || a.flag != b.flag || a.members.size() != b.members.size()) return false;
    for (std::size_t i = 0; i < a.members.size(); ++i) {
        if (!means_the_same(a.members[i], b.members[i])) return false;
    }
    return true;
}

void check_code(std::string_view code) {
    const UnpackedCode unpacked = unpack_code(code);
    fuzz::note_answer(unpacked.error);
    if (!unpacked.ok()) return require(!has_control_characters(unpacked.error, true), "what is wrong is one printable sentence", unpacked.error);
    require(!unpacked.files.empty() && unpacked.files.size() <= most_code_files, "a code has files, and not too many", code);
    std::vector<CodeFile> bare = unpacked.files;
    for (CodeFile& file : bare) file.text = drop_comments(file.text);
    const UnpackedCode again = unpack_code(pack_code(unpacked.files));
    require(again.ok() && again.files == bare, "files packed again are the same", code);
}

std::string compress(std::string_view payload) {
    uLongf size = compressBound(static_cast<uLong>(payload.size()));
    std::string packed(size, '\0');
    const int status = compress2(reinterpret_cast<Bytef*>(packed.data()), &size, reinterpret_cast<const Bytef*>(payload.data()),
                                 static_cast<uLong>(payload.size()), Z_BEST_SPEED);
    require(status == Z_OK, "bytes can be compressed", payload);
    packed.resize(size);
    return packed;
}

void check_text(std::string_view text) {
    const ParsedToml parsed = parse_toml(text, "x");
    if (!parsed.ok()) return;
    const std::string bare = drop_comments(text);
    const ParsedToml without = parse_toml(bare, "x");
    require(without.ok() && means_the_same(parsed.root, without.root), "without its comments a file means the same", text);
    require(drop_comments(bare) == bare, "dropping comments twice changes nothing more", text);
    if (bare.empty()) return;
    const UnpackedCode unpacked = unpack_code(pack_code({{std::string(setup_file_name), std::string(text)}}));
    require(unpacked.ok() && unpacked.files.size() == 1 && unpacked.files.front().text == bare, "a file comes out of a code as it went in", text);
}

}  // namespace

HITCHWRIGHT_FUZZ_LINES

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text = fuzz::as_text(data, size);
    constexpr std::string_view mark = "PAYLOAD:";
    if (text.starts_with("HITCHWRIGHT")) check_code(text);
    else if (text.starts_with(mark)) check_code("HITCHWRIGHT1:" + encode_base45(compress(text.substr(mark.size()))));
    else if (fuzz::is_file_text(text)) check_text(text);
    else return -1;
    return 0;
}
