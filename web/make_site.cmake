cmake_minimum_required(VERSION 3.25)

# Writes the folder SITE that a web server hands out: the page's FILES, the engine, the notices of what is in it, and a service
# worker that knows all of them by name and a version that changes with any of them.

file(REMOVE_RECURSE "${SITE}")
file(MAKE_DIRECTORY "${SITE}")
foreach(name IN LISTS FILES)
    file(COPY_FILE "${PAGE}/${name}" "${SITE}/${name}")
endforeach()
file(COPY_FILE "${ENGINE}/engine.js" "${SITE}/engine.js")

# Packed here, since not every server packs; under a name that none takes for anything it should unpack on the way.
execute_process(COMMAND gzip -9 --no-name --stdout "${ENGINE}/engine.wasm" OUTPUT_FILE "${SITE}/engine.bin" COMMAND_ERROR_IS_FATAL ANY)

# Notices go wherever the files go.
set(notices "Hitchwright ${VERSION}, and what is compiled into engine.bin and engine.js.\n")
function(add_notice title file)
    file(READ "${file}" text)
    set(notices "${notices}\n==== ${title}\n\n${text}\n" PARENT_SCOPE)
endfunction()
add_notice("Hitchwright" "${LICENCE}")
add_notice("Dear ImGui" "${SOURCES}/imgui/LICENSE.txt")
add_notice("qrencode" "${SOURCES}/qrencode/COPYING")
add_notice("zlib" "${SOURCES}/zlib/LICENSE")
foreach(package emscripten libeigen3-dev libfmt-dev libtomlplusplus-dev nlohmann-json3-dev libcli11-dev fonts-dejavu-core)
    add_notice("${package}, as Debian has it" "/usr/share/doc/${package}/copyright")
endforeach()
file(WRITE "${SITE}/notices.txt" "${notices}")

file(GLOB files RELATIVE "${SITE}" "${SITE}/*")
list(SORT files)
set(hashes "")
foreach(name IN LISTS files)
    file(SHA256 "${SITE}/${name}" hash)
    string(APPEND hashes "${name} ${hash}\n")
endforeach()
string(SHA256 version "${hashes}")
string(SUBSTRING "${version}" 0 16 version)
list(REMOVE_ITEM files service-worker.js)
list(JOIN files "\", \"" names)
file(READ "${SITE}/service-worker.js" worker)
string(REPLACE "@version@" "${version}" worker "${worker}")
string(REPLACE "@names@" "${names}" worker "${worker}")
file(WRITE "${SITE}/service-worker.js" "${worker}")
