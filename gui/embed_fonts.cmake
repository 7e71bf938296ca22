# Writes OUTPUT, a C++ file holding the fonts REGULAR and BOLD and the text NOTICE that has to go with them.
#   cmake -DREGULAR=a.ttf -DBOLD=b.ttf -DNOTICE=copyright -DOUTPUT=embedded_fonts.cpp -P embed_fonts.cmake
# String literals of escapes: a compiler reads them many times faster than a list of characters.

set(arrays "")
foreach(name REGULAR BOLD NOTICE)
    file(READ "${${name}}" bytes HEX)
    string(REGEX REPLACE "(................................)" "\\1\n" bytes "${bytes}")
    string(REGEX REPLACE "([0-9a-f][0-9a-f])" "\\\\x\\1" bytes "${bytes}")
    string(REPLACE "\n" "\"\n    \"" bytes "${bytes}")
    string(TOLOWER "${name}" word)
    string(APPEND arrays "constexpr char ${word}_bytes[] =\n    \"${bytes}\";\n")
endforeach()

file(CONFIGURE OUTPUT "${OUTPUT}" @ONLY CONTENT [[
// Written by embed_fonts.cmake; do not edit.
#include "gui/embedded_fonts.h"

namespace hitchwright {
namespace {

@arrays@
}  // namespace

std::string_view embedded_regular_font() { return {regular_bytes, sizeof regular_bytes - 1}; }
std::string_view embedded_bold_font() { return {bold_bytes, sizeof bold_bytes - 1}; }
std::string_view embedded_font_notice() { return {notice_bytes, sizeof notice_bytes - 1}; }

}  // namespace hitchwright
]])
