# What a citation looks like, and where the bibliography's keys stand. Read by the build (the list travels inside
# the library) and by tests/scripts/references.cmake.

# Sets `keys` to what is cited in `text`: [key], or [key with what is cited of it, as in [key eq. 3], [key, p. 5] or
# [key; from memory]. A key is lower case with a digit or a hyphen in it, five letters or more, so that units like
# [m3/s] and words of prose are none.
function(find_keys text)
  string(REPLACE "\\;" "," text "${text}")
  string(REPLACE ";" "\n" text "${text}")
  string(REPLACE "[" "\n<" text "${text}")
  string(REPLACE "]" "," text "${text}")
  string(REGEX MATCHALL "<[a-z][a-z0-9]*[-0-9][a-z0-9.-]*[,: \n]" found "${text}")
  list(TRANSFORM found REPLACE "^<(.*).$" "\\1")
  list(FILTER found INCLUDE REGEX "^.....")
  list(REMOVE_DUPLICATES found)
  set(keys "${found}" PARENT_SCOPE)
endfunction()

# Sets `keys` to what a file cites: anywhere in a page or a data file, in the comments of a program, and in what
# lib and cli say in quotes.
function(find_keys_of root file)
  if(file MATCHES "\\.(md|yaml)$")
    file(READ ${root}/${file} text)
    string(REPLACE ";" "\\;" text "${text}")
    string(REGEX REPLACE "\\]\\(" "> (" text "${text}")  # a link is no citation
  elseif(file MATCHES "^tests/.*\\.(h|cpp)$")
    file(STRINGS ${root}/${file} text REGEX "//")
    string(REPLACE "\\;" "," text "${text}")
    string(REGEX REPLACE "[^;]*//" "//" text "${text}")
  else()
    file(STRINGS ${root}/${file} text REGEX "//|\"")
  endif()
  find_keys("${text}")
  set(keys "${keys}" PARENT_SCOPE)
endfunction()

# Sets `files` to those that may cite: pages, data and programs. Answers that the command prints, as in README.md and
# in the tests' expected text, hold codes of findings in the same brackets and are left out.
function(find_citing_files root)
  file(GLOB_RECURSE files RELATIVE ${root} ${root}/lib/*.h ${root}/lib/*.cpp ${root}/cli/*.h ${root}/cli/*.cpp
       ${root}/models/*.yaml ${root}/models/*.md ${root}/tests/*.h ${root}/tests/*.cpp ${root}/tests/data/*.md)
  list(REMOVE_ITEM files lib/runnel/references.h)
  list(SORT files)
  set(files "${files}" PARENT_SCOPE)
endfunction()

# As a program: writes CITATIONS_OUT, one line `key file` for each file under ROOT that cites a key.
if(CITATIONS_OUT)
  cmake_minimum_required(VERSION 3.25)
  find_citing_files(${ROOT})
  set(uses "")
  foreach(file IN LISTS files)
    find_keys_of(${ROOT} ${file})
    foreach(key IN LISTS keys)
      string(APPEND uses "${key} ${file}\n")
    endforeach()
  endforeach()
  file(CONFIGURE OUTPUT ${CITATIONS_OUT} CONTENT "${uses}" @ONLY)  # leaves the file alone if it would be the same
endif()
