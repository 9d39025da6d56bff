# What must never stand in the tree: at the top level, in any text, in the library.
cmake_minimum_required(VERSION 3.25)

# Tracked files; where there is no git (a source archive), every file but builds and installed modules.
execute_process(COMMAND git ls-files WORKING_DIRECTORY ${SOURCE} RESULT_VARIABLE code OUTPUT_VARIABLE out ERROR_QUIET)
if(code EQUAL 0 AND out)
  string(REGEX REPLACE "\n$" "" out "${out}")
  string(REPLACE "\n" ";" files "${out}")
else()
  file(GLOB_RECURSE files RELATIVE ${SOURCE} ${SOURCE}/*)
  list(FILTER files EXCLUDE REGEX "^build|^\\.git/|node_modules/")
endif()

# Words are put together here so that this file does not hold them: a ~ in them goes.
string(CONCAT not_cited "trans" "cript|record" "ing|seed (docu" "ment|vid" "eo)")
# Notes, plans and talk of those who work on this: no reader has them. "Takes note" and "issues water" are fine.
set(not_published
    "(line|pipe|practice|language)[-_ ]no~tes?([^a-z]|$)"  # notes cited as a source
    "(our|working|sha~red|their|project) no~tes([^a-z]|$)|no~te it came"
    "(the|this|our|see|per) iss~ues?([^a-z]|$)|(^|[^a-z])iss~ue #?[0-9]"
    "(as|was|were) agre~ed([^a-z]|$)|agre~ed (keys|names|with|on)|(our|by|per|working) agre~ement"
    "(^|[^a-z])sha~red/|(physics|design|quality|speed|style)\\.md"
    "(^|[^a-z])che~cks/[a-z0-9-]+(\\.md|/)"
    "inde~pendent (slow )?calculator|the project's check s~et")
string(REPLACE "~" "" not_published "${not_published}")
string(CONCAT machine_paths "(^|[^A-Za-z0-9_.])/(wo" "rk|fa" "rm)/")
string(CONCAT fast_math "-ffa" "st-math|-of" "ast|-funsafe-" "math")
string(CONCAT prints_or_exits "#include <(iostream|cstdio|stdio.h)>|std::c(out|err|log)[^a-z]|[^a-z_]f?printf *\\(|"
                              "fmt::print *\\(|std::(_?exit|quick_exit|abort|terminate) *\\(")
set(cli_only "#include <(spdlog|cli)/")
set(document_only "#include <yaml-cpp/")
set(most_lines 500)
set(top_level CMakeLists.txt README.md DEVELOPERS.md LICENSE lib cli models tests benchmarks)

# Adds to `faults` if the text in lower case matches the pattern in the variable `pattern`.
macro(refuse pattern why)
  if(lower MATCHES "${${pattern}}")
    list(APPEND faults "${file}: ${why}: '${CMAKE_MATCH_0}'")
  endif()
endmacro()

function(find_faults root)
  set(faults "")
  foreach(file IN LISTS ARGN)
    string(REGEX REPLACE "/.*" "" top ${file})
    if(NOT top IN_LIST top_level AND NOT top MATCHES "^\\.")
      list(APPEND faults "${file}: '${top}' is no entry of the top level")
    endif()
    if(NOT EXISTS ${root}/${file})
      continue()  # deleted but not yet committed
    endif()
    file(READ ${root}/${file} text)
    string(TOLOWER "${file}\n${text}" lower)
    refuse(not_cited "cites what is never cited")
    foreach(words IN LISTS not_published)  # one by one: a pattern may hold ten brackets
      refuse(words "cites what no reader has")
    endforeach()
    refuse(machine_paths "holds a path of one machine")
    if(file MATCHES "CMakeLists|\\.cmake$|^\\.ci/")
      refuse(fast_math "asks for arithmetic in which NaN is lost")
    endif()
    if(file MATCHES "^(lib|cli)/.*\\.(h|cpp)$")
      string(REGEX MATCHALL "\n" lines "${text}")
      list(LENGTH lines lines)
      if(lines GREATER most_lines)
        list(APPEND faults "${file}: ${lines} lines, ${most_lines} is the most")
      endif()
    endif()
    if(file MATCHES "^lib/.*\\.(h|cpp)$")
      refuse(prints_or_exits "the library never prints or exits")
      refuse(cli_only "belongs to cli")
      if(NOT file MATCHES "^lib/runnel/document/")
        refuse(document_only "belongs to the room document")
      endif()
    endif()
  endforeach()
  set(faults "${faults}" PARENT_SCOPE)
endfunction()

# The test must be able to fail: each planted file breaks one rule.
set(planted ${BUILD}/forbidden_words_test)
file(REMOVE_RECURSE ${planted})
string(REPEAT "int x;\n" 501 long)
string(REGEX REPLACE "\\|.*" "" word "${not_cited}")
file(WRITE ${planted}/notes.txt "not allowed at the top\n")
file(WRITE ${planted}/lib/a.h "// see the ${word}\n")
file(WRITE ${planted}/lib/b.cpp "${long}")
file(WRITE ${planted}/lib/c.cpp "#include <iostream>\n")
file(WRITE ${planted}/lib/d.cpp "void f() { std::exit(1); }\n")
file(WRITE ${planted}/lib/e.cpp "#include <yaml-cpp/yaml.h>\n")
file(WRITE ${planted}/lib/CMakeLists.txt "add_compile_options(-O2 -ffa" "st-math)\n")
string(CONCAT path "/wo" "rk/main")
file(WRITE ${planted}/cli/f.cpp "// ${path}\n")
set(phrases "[line-no~tes 4]" "from_the_language_no~te" "our no~tes say" "the no~te it came from" "the iss~ue's limit"
    "see iss~ue 7" "iss~ue #7" "the agre~ed keys" "as agre~ed." "by agre~ement" "sha~red/lines" "(physics~.md 6)"
    "che~cks/lines/22" "an inde~pendent calculator")
foreach(phrase IN LISTS phrases)
  string(REPLACE "~" "" phrase "${phrase}")
  string(MAKE_C_IDENTIFIER "${phrase}" name)
  string(MD5 name "${name}")
  file(WRITE ${planted}/tests/${name}.cpp "// ${phrase}\n")
endforeach()
file(GLOB_RECURSE wrong RELATIVE ${planted} ${planted}/*)
find_faults(${planted} ${wrong})
list(LENGTH faults found)
list(LENGTH wrong planted_count)
if(NOT found EQUAL planted_count)
  list(JOIN faults "\n  " text)
  message(FATAL_ERROR "${planted_count} planted faults, found ${found}:\n  ${text}")
endif()

# And words that only look alike must pass.
file(REMOVE_RECURSE ${planted})
file(WRITE ${planted}/tests/fine.cpp "// It takes note of each tank; the note says so; water issues from the spring; both agree: 1e-9.\n"
                                      "// Checks lines; shared by all; a spring that issues 7 L/s; laws agree with one another.\n")
find_faults(${planted} tests/fine.cpp)
if(faults)
  message(FATAL_ERROR "nothing is wrong with this: ${faults}")
endif()

find_faults(${SOURCE} ${files})
if(faults)
  list(JOIN faults "\n  " text)
  message(FATAL_ERROR "${text}")
endif()
