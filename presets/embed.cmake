# Writes OUTPUT, a C++ file holding the bytes of FILES (a list of paths relative to ROOT).
#   cmake -DROOT=dir "-DFILES=a.toml;b/c.toml" -DOUTPUT=embedded.cpp -P embed.cmake
# Bytes are written as character escapes, so any content survives: quotes, UTF-8, no size limit.

set(arrays "")
set(entries "")
set(count 0)
foreach(path IN LISTS FILES)
    if(NOT path MATCHES "^[A-Za-z0-9_./-]+$")
        message(FATAL_ERROR "preset file name with an unexpected character: ${path}")
    endif()
    file(READ "${ROOT}/${path}" bytes HEX)
    string(REGEX REPLACE "(................................)" "\\1\n    " bytes "${bytes}")
    string(REGEX REPLACE "([0-9a-f][0-9a-f])" "'\\\\x\\1'," characters "${bytes}")
    # One byte more than the file, so that an empty file is no empty array.
    string(APPEND arrays "// ${path}\nconstexpr char file_${count}[] = {\n    ${characters}'\\0'};\n")
    string(APPEND entries "    EmbeddedFile{\"${path}\", {file_${count}, sizeof file_${count} - 1}},\n")
    math(EXPR count "${count} + 1")
endforeach()

file(CONFIGURE OUTPUT "${OUTPUT}" @ONLY CONTENT [[
// Written by embed.cmake from the .toml files; do not edit.
#include "presets/embedded.h"

#include <array>

namespace hitchwright {
namespace {

@arrays@
constexpr std::array<EmbeddedFile, @count@> files = {
@entries@};

}  // namespace

std::span<const EmbeddedFile> embedded_files() { return files; }

}  // namespace hitchwright
]])
