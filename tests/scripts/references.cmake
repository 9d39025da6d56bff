# Every [key] beside a number or a formula is spelled out in lib/runnel/references.h, once, with how it was come by; and
# every key spelled out there is cited.
cmake_minimum_required(VERSION 3.25)
include(${SOURCE}/lib/citations.cmake)

# The search must be able to find: bare keys, and keys with what is cited of them.
find_keys("as in [davis2005], m [m3], eq. 4 of [iapws-r12-08]; see [x], [liou1998 eq. 3], [liou1990; from memory],
[water-supply-6-4, table 2], [nist-sp811 p. 5] or [hec-22: found]; not at[at->second], [box-], [block->a + i] or [prose]")
set(expected "davis2005;iapws-r12-08;liou1998;liou1990;water-supply-6-4;nist-sp811;hec-22")
if(NOT keys STREQUAL expected)
  message(FATAL_ERROR "keys found in the sample text: ${keys}")
endif()

# Sets `defined` to the keys of the list under `root`, and `faults` to what is wrong with it and with what cites it.
function(find_faults root)
  set(faults "")
  set(defined "")
  file(STRINGS ${root}/lib/runnel/references.h lines REGEX "^// +\\[")
  foreach(line IN LISTS lines)
    string(REGEX MATCH "\\[([^]]+)\\]" key "${line}")
    set(key ${CMAKE_MATCH_1})
    find_keys("[${key}]")
    if(NOT keys STREQUAL key)
      list(APPEND faults "references.h: '${key}' is no key: lower case, five letters or more, a digit or a hyphen in it")
    endif()
    if(key IN_LIST defined)
      list(APPEND faults "references.h has ${key} twice")
    endif()
    if(NOT line MATCHES ";.*(FOUND|secondary|from memory|computed|derived here|not read)")
      list(APPEND faults "references.h does not say at the end how ${key} was come by")
    endif()
    list(APPEND defined "${key}")
  endforeach()

  set(used "")
  find_citing_files(${root})
  foreach(file IN LISTS files)
    find_keys_of(${root} ${file})
    foreach(key IN LISTS keys)
      if(NOT key IN_LIST defined)
        list(APPEND faults "${file}: [${key}] is not in lib/runnel/references.h")
      endif()
    endforeach()
    list(APPEND used ${keys})
  endforeach()
  foreach(key IN LISTS defined)
    if(NOT key IN_LIST used)
      list(APPEND faults "references.h: nothing cites [${key}]")
    endif()
  endforeach()
  set(faults "${faults}" PARENT_SCOPE)
endfunction()

# The test must be able to fail: each line or file planted here is one fault, but for the first two.
set(planted ${BUILD}/references_test)
file(REMOVE_RECURSE ${planted})
file(WRITE ${planted}/lib/runnel/references.h "// [good-1] Cited below; FOUND
// [good-2] Cited below too, eq. 3; from memory
// [good-2] Once more; FOUND
// [prose] Not a key, and so not cited; FOUND
// [silent-1] Tells no status
// [idle-1] Nothing cites it; secondary
")
file(WRITE ${planted}/lib/runnel/a.h "// as in [good-1 eq. 3], [silent-1]\n")
file(WRITE ${planted}/lib/runnel/b.cpp "d.source(\"rule [good-2; found]\");\nint x = list[absent-1];\n")
file(WRITE ${planted}/lib/runnel/c.cpp "d.source(\"rule [absent-2; from memory]\");\n")
file(WRITE ${planted}/tests/d_test.cpp "CHECK(text == \"[no-citation]\");  // [absent-3 p. 5]\n")
file(WRITE ${planted}/models/e.yaml "source: >-\n  a table\n  [absent-4], from memory\n")
file(WRITE ${planted}/tests/data/README.md "[a-link](#there) and [absent-5, table 2]\n")
find_faults(${planted})
list(LENGTH faults found)
if(NOT found EQUAL 9)  # twice, no key, no key cited, no status, idle, and four absent
  list(JOIN faults "\n  " text)
  message(FATAL_ERROR "nine planted faults, found ${found}:\n  ${text}")
endif()

find_faults(${SOURCE})
if(faults)
  list(JOIN faults "\n  " text)
  message(FATAL_ERROR "${text}")
endif()
