# Fails when a folder includes what is above its level, or a library it should not know.
#   cmake -DROOT=checkout -P tests/check_levels.cmake
# geometry (0) <- presets, report (1) <- cli (2) <- gui (3) <- web (4). Every include line is looked at: what is not
# allowed below is an error, so that a new library is a decision and not an accident.

set(standard "<[a-z_]+>")
set(io "<(fstream|iostream|istream|ostream|iomanip|cstdio|filesystem|syncstream)>")

set(allowed_geometry "\"geometry/|<Eigen/|${standard}")
set(allowed_presets "\"(geometry|presets)/|<fmt/|${standard}")
set(allowed_report "\"(geometry|report)/|<fmt/|${standard}")
set(allowed_cli "\"(geometry|presets|report|cli)/|<CLI/|<fmt/|${standard}")
set(allowed_gui "\"(geometry|presets|report|cli|gui)/|<imgui(_stdlib)?\\.h>|<fmt/|${standard}")
set(allowed_web "\"(geometry|presets|report|cli|gui|web)/|<emscripten/|${standard}")
set(forbidden_geometry "${io}")

# What single files may include on top of their folder. Cairo stays inside these.
# GLFW and OpenGL stay inside the viewer's main.cpp, its window and what paints it.
set(allowed_geometry/work_thread.cpp "<(pthread|sched)\\.h>")  # where a thread starts
set(allowed_cli/main.cpp "<unistd\\.h>")
set(allowed_cli/prepare_process.cpp "<(fcntl|malloc|unistd)\\.h>")
set(allowed_cli/terminal_input.cpp "<(poll|unistd)\\.h>")
# Of Dear ImGui's inside: a key that means a step here must not move the focus as well.
foreach(file ditch_handle_panel key_steps picture_canvas)
    set(allowed_gui/${file}.cpp "<imgui_internal\\.h>")
endforeach()
set(allowed_gui/main.cpp "<(GLFW/glfw3|backends/imgui_impl_glfw)\\.h>")
set(allowed_gui/frame_painter.cpp "<(GLFW/glfw3|backends/imgui_impl_opengl3)\\.h>")
set(allowed_gui/part_copy.cpp "<GLFW/glfw3\\.h>")
set(allowed_gui/pixel_blit.cpp "<GLFW/glfw3\\.h>")
set(allowed_gui/opengl_window.cpp "<(GLFW/glfw3|backends/imgui_impl_(glfw|opengl3))\\.h>")
# Which window lies under a finger, what it scrolls and which text is typed into say Dear ImGui's inner parts alone.
set(allowed_gui/screen.cpp "<imgui_internal\\.h>")
set(allowed_gui/screen_keyboard.cpp "<imgui_internal\\.h>")
set(allowed_gui/touch.cpp "<imgui_internal\\.h>")
set(allowed_web/canvas.h "<imgui\\.h>")
set(allowed_web/canvas.cpp "<(GLFW/glfw3|backends/imgui_impl_(glfw|opengl3))\\.h>")
set(allowed_web/viewer.cpp "<(GLFW/glfw3|backends/imgui_impl_glfw)\\.h>")
set(allowed_report/atomic_file.cpp "<(fcntl|unistd|sys/stat)\\.h>")
set(allowed_report/folder_lock.cpp "<(fcntl|unistd|sys/file)\\.h>")
set(allowed_report/file_lock.cpp "<(fcntl|unistd|sys/(file|stat))\\.h>")
# cairo_writer includes it through cairo_library alone.
set(allowed_report/cairo_library.h "<cairo")
set(allowed_report/cairo_library.cpp "<dlfcn\\.h>")
set(allowed_report/cairo_writer.cpp "<cairo")
set(allowed_report/json_writer.cpp "<nlohmann/")
set(allowed_presets/setup_code.cpp "<zlib\\.h>")
set(allowed_presets/toml_reader.cpp "\"third_party/toml\\.h\"")  # toml++
set(allowed_report/qr_code.cpp "<(qrencode|dlfcn)\\.h>")

set(errors "")
set(lines_seen 0)
foreach(folder geometry presets report cli gui web)
    set(lines_in_folder 0)
    file(GLOB_RECURSE files RELATIVE "${ROOT}" "${ROOT}/${folder}/*.h" "${ROOT}/${folder}/*.cpp")
    foreach(file IN LISTS files)
        file(STRINGS "${ROOT}/${file}" lines REGEX "^[ \t]*#[ \t]*include")
        foreach(line IN LISTS lines)
            math(EXPR lines_in_folder "${lines_in_folder} + 1")
            string(REGEX REPLACE "^[ \t]*#[ \t]*include[ \t]*" "" name "${line}")
            set(pattern "${allowed_${folder}}")
            if(DEFINED allowed_${file})
                string(APPEND pattern "|${allowed_${file}}")
            endif()
            if(NOT name MATCHES "^(${pattern})" OR
               (DEFINED forbidden_${folder} AND name MATCHES "^${forbidden_${folder}}"))
                string(APPEND errors "  ${file}: ${name}\n")
            endif()
        endforeach()
        # A forward declaration would get a Cairo type past the include lines.
        file(STRINGS "${ROOT}/${file}" lines REGEX "cairo_[a-z_]+_t")
        if(lines AND NOT "${allowed_${file}}" MATCHES "cairo")
            string(APPEND errors "  ${file}: Cairo type outside the PDF and PNG writer\n")
        endif()
    endforeach()
    if(lines_in_folder EQUAL 0)
        string(APPEND errors "  ${folder}: no include line found, so nothing was checked\n")
    endif()
    math(EXPR lines_seen "${lines_seen} + ${lines_in_folder}")
endforeach()

if(errors)
    message(FATAL_ERROR "includes that cross the levels:\n${errors}")
endif()
message(STATUS "${lines_seen} include lines, all at or below their level")
