# What find_package gives elsewhere: header-only libraries as Debian has them, the others from the sources of Debian's packages.
# /usr/include as a whole would bring the C library's headers of this machine, so each library is linked into a folder by itself.

set(sources "${PROJECT_BINARY_DIR}/sources")
execute_process(COMMAND "${PROJECT_SOURCE_DIR}/web/fetch_sources.sh" "${sources}" COMMAND_ERROR_IS_FATAL ANY)

set(headers "${PROJECT_BINARY_DIR}/headers")
file(MAKE_DIRECTORY "${headers}")
foreach(library fmt toml++ nlohmann CLI eigen3/Eigen)
    if(NOT EXISTS "/usr/include/${library}")
        message(FATAL_ERROR "/usr/include/${library} is missing: the packages are listed in .ci/setup.sh (build_packages)")
    endif()
    get_filename_component(name "${library}" NAME)
    file(CREATE_LINK "/usr/include/${library}" "${headers}/${name}" SYMBOLIC)
endforeach()

# web_imported NAME [LIBRARY]: the name that the folders link, with headers alone or with a library built here.
function(web_imported name)
    add_library(${name} INTERFACE IMPORTED GLOBAL)
    target_include_directories(${name} SYSTEM INTERFACE "${headers}")
    target_link_libraries(${name} INTERFACE ${ARGN})
endfunction()

set(HITCHWRIGHT_OWN_FMT ON)
foreach(name fmt::fmt Eigen3::Eigen tomlplusplus::tomlplusplus nlohmann_json::nlohmann_json CLI11::CLI11 Threads::Threads)
    web_imported(${name})
endforeach()

enable_language(C)

set(zlib_files "")
foreach(name adler32 compress crc32 deflate inffast inflate inftrees trees uncompr zutil)
    list(APPEND zlib_files "${sources}/zlib/${name}.c")
endforeach()
add_library(web_zlib STATIC ${zlib_files})
target_compile_options(web_zlib PRIVATE -w)
target_include_directories(web_zlib SYSTEM INTERFACE "${sources}/zlib")
web_imported(ZLIB::ZLIB web_zlib)

set(qrencode_files "")
foreach(name bitstream mask mmask mqrspec qrencode qrinput qrspec rsecc split)
    list(APPEND qrencode_files "${sources}/qrencode/${name}.c")
endforeach()
add_library(web_qrencode STATIC ${qrencode_files})
target_compile_options(web_qrencode PRIVATE -w)
target_compile_definitions(web_qrencode PRIVATE
    STATIC_IN_RELEASE=static MAJOR_VERSION=4 MINOR_VERSION=1 MICRO_VERSION=1 "VERSION=\"4.1.1\"")
target_include_directories(web_qrencode SYSTEM INTERFACE "${sources}/qrencode")
web_imported(PkgConfig::qrencode web_qrencode)

set(imgui "${sources}/imgui")
add_library(web_imgui STATIC
    "${imgui}/imgui.cpp" "${imgui}/imgui_draw.cpp" "${imgui}/imgui_tables.cpp" "${imgui}/imgui_widgets.cpp"
    "${imgui}/backends/imgui_impl_glfw.cpp" "${imgui}/backends/imgui_impl_opengl3.cpp" "${imgui}/misc/cpp/imgui_stdlib.cpp")
target_compile_options(web_imgui PRIVATE -w -Os)
# WebGL 1 draws from the first corner of a list only, and a list may have more corners than 16 bits count.
target_compile_definitions(web_imgui PUBLIC "ImDrawIdx=unsigned int")
target_include_directories(web_imgui SYSTEM PUBLIC "${imgui}" "${imgui}/misc/cpp")
web_imported(PkgConfig::imgui web_imgui)

# The letters of the viewer and no others: a tenth of the files. Must hold what gui/fonts.cpp asks for.
find_program(HB_SUBSET hb-subset REQUIRED)
set(fonts "${PROJECT_BINARY_DIR}/fonts")
file(MAKE_DIRECTORY "${fonts}")
foreach(name DejaVuSans DejaVuSans-Bold)
    execute_process(COMMAND "${HB_SUBSET}" "/usr/share/fonts/truetype/dejavu/${name}.ttf"
        --unicodes=0020-024F,0370-052F,2010-203A,2044,2150-215F,FFFD --no-hinting --drop-tables+=GSUB,GPOS,GDEF,kern,FFTM,gasp
        "--output-file=${fonts}/${name}.ttf" COMMAND_ERROR_IS_FATAL ANY)
endforeach()
set(HITCHWRIGHT_FONT "${fonts}/DejaVuSans.ttf" CACHE FILEPATH "")
set(HITCHWRIGHT_BOLD_FONT "${fonts}/DejaVuSans-Bold.ttf" CACHE FILEPATH "")
