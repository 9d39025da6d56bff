# Every [key] beside a number or a formula is spelled out in lib/runnel/references.h, once.
cmake_minimum_required(VERSION 3.25)

# Sets `keys` to the keys in `text`: lower case with a digit or a hyphen in it, five letters or more, so
# that units like [m3] and words of prose are none.
function(find_keys text)
  string(REPLACE "[" "\n<" text "${text}")
  string(REPLACE "]" ">\n" text "${text}")
  string(REPLACE ";" "," text "${text}")
  string(REGEX MATCHALL "<[a-z][a-z0-9]*[-0-9][a-z0-9.-]*>" found "${text}")
  list(FILTER found INCLUDE REGEX "^<.....+>$")
  list(REMOVE_DUPLICATES found)
  set(keys "${found}" PARENT_SCOPE)
endfunction()

find_keys("as in [davis2005], m [m3], eq. 4 of [iapws-r12-08]; see [x]")  # the search must be able to find
if(NOT keys STREQUAL "<davis2005>;<iapws-r12-08>")
  message(FATAL_ERROR "keys found in the sample text: ${keys}")
endif()

file(STRINGS ${SOURCE}/lib/runnel/references.h lines REGEX "^// +\\[")
set(defined "")
foreach(line IN LISTS lines)
  string(REGEX MATCH "\\[([^]]+)\\]" key "${line}")
  if("<${CMAKE_MATCH_1}>" IN_LIST defined)
    message(SEND_ERROR "references.h has [${CMAKE_MATCH_1}] twice")
  endif()
  list(APPEND defined "<${CMAKE_MATCH_1}>")
endforeach()

file(GLOB_RECURSE files RELATIVE ${SOURCE} ${SOURCE}/lib/*.h ${SOURCE}/lib/*.cpp ${SOURCE}/models/catalogue/*.yaml)
foreach(file IN LISTS files)
  file(STRINGS ${SOURCE}/${file} comments REGEX "//|#|source")
  find_keys("${comments}")
  foreach(key IN LISTS keys)
    if(NOT key IN_LIST defined)
      message(SEND_ERROR "${file}: ${key} is not in lib/runnel/references.h")
    endif()
  endforeach()
endforeach()
