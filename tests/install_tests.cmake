# The installed package as somebody else sees it: installed, used, moved to another folder and used from there.
#
# What is built is installed and nothing of ours compiled again; the projects below consumer/ and docs/examples are configured
# and built against the folder of the installation alone. Order by fixtures: installed, used there, moved, used there.

set(consumer "${CMAKE_CURRENT_SOURCE_DIR}/consumer")
set(installed "${CMAKE_CURRENT_BINARY_DIR}/installed/first place")
set(moved "${CMAKE_CURRENT_BINARY_DIR}/installed/moved to/another place")

# The compiler of the build, and its sanitizers: a library that has them cannot be linked without.
string(TOUPPER "${CMAKE_BUILD_TYPE}" type)
string(REGEX MATCHALL "-fsanitize=[a-z,]+" sanitizers "${CMAKE_CXX_FLAGS} ${CMAKE_CXX_FLAGS_${type}}")
list(JOIN sanitizers " " sanitizers)
set(consumer_options "-G|${CMAKE_GENERATOR}|-DCMAKE_CXX_COMPILER=${CMAKE_CXX_COMPILER}|-DCMAKE_CXX_FLAGS=${sanitizers}")

# hitchwright_consumer_test(NAME name PROJECT folder PREFIX folder OPTIONS text RUN text [OUTPUTS folder] FIXTURE name)
function(hitchwright_consumer_test)
    cmake_parse_arguments(test "" "NAME;PROJECT;PREFIX;OPTIONS;RUN;OUTPUTS;FIXTURE" "" ${ARGN})
    string(MAKE_C_IDENTIFIER "${test_NAME}" folder)
    add_test(NAME "${test_NAME}" COMMAND "${CMAKE_COMMAND}" "-DSOURCE=${test_PROJECT}" "-DPREFIX=${test_PREFIX}"
        "-DWORK=${CMAKE_CURRENT_BINARY_DIR}/consumer/${folder}" "-DOPTIONS=${consumer_options}|${test_OPTIONS}"
        "-DRUN=${test_RUN}" "-DOUTPUTS=${test_OUTPUTS}" -P "${consumer}/run.cmake")
    set_tests_properties("${test_NAME}" PROPERTIES FIXTURES_REQUIRED ${test_FIXTURE})
endfunction()

set(tables "${PROJECT_SOURCE_DIR}/tests/validation")
set(none_but_eigen "")
foreach(package fmt tomlplusplus ZLIB PkgConfig nlohmann_json CLI11)
    string(APPEND none_but_eigen "|-DCMAKE_DISABLE_FIND_PACKAGE_${package}=ON")
endforeach()

add_test(NAME "library: it installs what is built" COMMAND "${CMAKE_COMMAND}" "-DBUILD=${PROJECT_BINARY_DIR}"
    "-DPREFIX=${installed}" "-DMOVED=${moved}" -P "${consumer}/install.cmake")
set_tests_properties("library: it installs what is built" PROPERTIES FIXTURES_SETUP library_installed)

hitchwright_consumer_test(NAME "library: geometry alone needs Eigen and threads, no other package"
    PROJECT "${consumer}/numbers" PREFIX "${installed}" FIXTURE library_installed
    OPTIONS "-DCMAKE_BUILD_TYPE=Release|-DCOMPONENTS=geometry${none_but_eigen}"
    RUN "geometry_numbers '${tables}/linkage_a.csv'")

# The first place is gone from here on.
set(move "library: the installation is moved elsewhere")
add_test(NAME "${move}" COMMAND "${CMAKE_COMMAND}" -E rename "${installed}" "${moved}")
set_tests_properties("${move}" PROPERTIES FIXTURES_REQUIRED library_installed FIXTURES_SETUP library_moved
    DEPENDS "library: geometry alone needs Eigen and threads, no other package")

# Other flags than those the libraries were built with: docs/library.md allows them.
hitchwright_consumer_test(NAME "library: numbers of geometry and presets from where it was moved to"
    PROJECT "${consumer}/numbers" PREFIX "${moved}" FIXTURE library_moved
    OPTIONS "-DCMAKE_BUILD_TYPE=Release|-DCOMPONENTS=geometry,presets|-DCMAKE_CXX_FLAGS_RELEASE=-O2 -DNDEBUG -march=native"
    RUN "geometry_numbers '${tables}/linkage_a.csv'|presets_numbers '${tables}/demo_setups.csv'")

add_test(NAME "library: the program runs from where it was moved to"
    COMMAND "${moved}/${CMAKE_INSTALL_BINDIR}/hitchwright" fit utility-cutter-fits)
set_tests_properties("library: the program runs from where it was moved to" PROPERTIES FIXTURES_REQUIRED library_moved)

hitchwright_consumer_test(NAME "library: every installed header compiles by itself"
    PROJECT "${consumer}/headers" PREFIX "${moved}" FIXTURE library_moved
    OPTIONS "-DCMAKE_BUILD_TYPE=None|-DSOURCES=${PROJECT_SOURCE_DIR}")

hitchwright_consumer_test(NAME "library: the examples of docs/library.md print what is shown"
    PROJECT "${PROJECT_SOURCE_DIR}/docs/examples" PREFIX "${moved}" FIXTURE library_moved
    OPTIONS "-DCMAKE_BUILD_TYPE=Release" OUTPUTS "${PROJECT_SOURCE_DIR}/docs/examples"
    RUN "linkage_travel|readings_to_cut my-setup.toml|many_machines")
