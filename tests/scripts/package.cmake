# Installs the build, moves the installed tree, and builds a stranger's program against it: by
# find_package and by pkg-config. Then takes the library in as a folder, where it must keep to itself.
cmake_minimum_required(VERSION 3.25)

load_cache(${BUILD} READ_WITH_PREFIX built_ RUNNEL_SANITIZE RUNNEL_COVERAGE CMAKE_CXX_COMPILER CMAKE_GENERATOR)
if(built_RUNNEL_SANITIZE OR built_RUNNEL_COVERAGE)
  message(STATUS "not installed: this build is instrumented")
  return()
endif()

set(place ${BUILD}/package_test)
file(REMOVE_RECURSE ${place})

function(run)
  execute_process(COMMAND ${ARGN} RESULT_VARIABLE code OUTPUT_VARIABLE out ERROR_VARIABLE err
                  OUTPUT_STRIP_TRAILING_WHITESPACE)
  if(NOT code EQUAL 0)
    message(FATAL_ERROR "'${ARGN}' gave ${code}:\n${out}\n${err}")
  endif()
  set(out "${out}" PARENT_SCOPE)
endfunction()

function(expect_equal what got wanted)
  if(NOT got STREQUAL wanted)
    message(FATAL_ERROR "${what}: got '${got}', expected '${wanted}'")
  endif()
endfunction()

run(${CMAKE_COMMAND} --install ${BUILD} --prefix ${place}/first)
file(RENAME ${place}/first ${place}/moved)

run(${CMAKE_COMMAND} -S ${SOURCE}/tests/package -B ${place}/cmake -G ${built_CMAKE_GENERATOR}
    -DCMAKE_BUILD_TYPE=Release -DCMAKE_PREFIX_PATH=${place}/moved)
run(${CMAKE_COMMAND} --build ${place}/cmake)
run(${place}/cmake/uses_runnel)
expect_equal("bore shown by the program of find_package" "${out}" "38.1 mm")

# The program that README.md shows: a system built in code, asked, changed, asked again.
run(${place}/cmake/example)
if(NOT out MATCHES "^in 25 mm pipe 0\\.[0-9]+ L/s, in 32 mm pipe 0\\.[0-9]+ L/s$")
  message(FATAL_ERROR "the example printed: ${out}")
endif()

# What the licences of this and of other libraries ask for travels along.
foreach(text LICENSE notices/libfmt-dev.txt notices/libeigen3-dev.txt)
  if(NOT EXISTS ${place}/moved/share/doc/runnel/${text})
    message(FATAL_ERROR "share/doc/runnel/${text} was not installed")
  endif()
endforeach()

file(GLOB_RECURSE pc ${place}/moved/runnel.pc)
cmake_path(GET pc PARENT_PATH pc_folder)
set(ENV{PKG_CONFIG_PATH} ${pc_folder})
run(pkg-config --static --cflags --libs runnel)
separate_arguments(flags UNIX_COMMAND "${out}")
run(${built_CMAKE_CXX_COMPILER} -std=c++20 ${SOURCE}/tests/package/main.cpp -o ${place}/by_pkg_config ${flags})
run(${place}/by_pkg_config)
expect_equal("bore shown by the program of pkg-config" "${out}" "38.1 mm")
run(pkg-config --modversion runnel)
set(version "${out}")
run(${place}/moved/bin/runnel --version)
expect_equal("version the command prints" "${out}" "runnel ${version}")

# Every header that was installed stands on what was installed.
file(GLOB_RECURSE headers RELATIVE ${place}/moved/include ${place}/moved/include/*.h)
list(TRANSFORM headers REPLACE "(.+)" "#include \"\\1\"\n")
list(JOIN headers "" text)
file(WRITE ${place}/every_header.cpp "${text}")
run(${built_CMAKE_CXX_COMPILER} -std=c++20 -fsyntax-only -I${place}/moved/include ${place}/every_header.cpp)

# As a folder of another project: nothing but the library, and no rule to install it.
run(${CMAKE_COMMAND} -S ${SOURCE}/tests/package -B ${place}/folder -G ${built_CMAKE_GENERATOR}
    -DCMAKE_BUILD_TYPE=Release -DRUNNEL_SOURCE=${SOURCE})
load_cache(${place}/folder READ_WITH_PREFIX folder_ RUNNEL_CLI RUNNEL_INSTALL RUNNEL_DEVELOPER)
foreach(option CLI INSTALL DEVELOPER)
  expect_equal("RUNNEL_${option} inside another project" "${folder_RUNNEL_${option}}" "OFF")
endforeach()
