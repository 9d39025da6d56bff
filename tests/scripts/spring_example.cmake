# The invented spring goes through every command, under all its settings, and each tells its part: cmake
# -DSOURCE=... -DBUILD=... -DRUNNEL=... -P spring_example.cmake
cmake_minimum_required(VERSION 3.25)

set(model ${SOURCE}/models/spring_works/model.yaml)
set(scratch ${BUILD}/spring_example)
file(MAKE_DIRECTORY ${scratch})

# Runs a command; it must end with `code` and print each of the sentences that follow.
function(tells code)
  cmake_parse_arguments(PARSE_ARGV 1 arg "" "" "RUN;SAYS;NOT")
  execute_process(COMMAND ${RUNNEL} ${arg_RUN} OUTPUT_VARIABLE out ERROR_VARIABLE err RESULT_VARIABLE got)
  list(JOIN arg_RUN " " line)
  if(NOT got EQUAL ${code})
    message(FATAL_ERROR "runnel ${line}: exit ${got}, not ${code}\n${out}\n${err}")
  endif()
  string(REGEX REPLACE "[ \n]+" " " flat "${out}")  # lines are broken where they fit
  foreach(words IN LISTS arg_SAYS)
    string(FIND "${flat}" "${words}" at)
    if(at EQUAL -1)
      message(FATAL_ERROR "runnel ${line} does not say \"${words}\":\n${out}\n${err}")
    endif()
  endforeach()
  foreach(words IN LISTS arg_NOT)
    string(FIND "${flat}" "${words}" at)
    if(NOT at EQUAL -1)
      message(FATAL_ERROR "runnel ${line} says \"${words}\":\n${out}")
    endif()
  endforeach()
endfunction()

set(settings "box service" "dry season" "troughs empty")

# review: rules, claims, works, service, upkeep, each setting.
tells(0 RUN review ${model}
      SAYS "Nothing that can be judged fails" "as drawn and under every setting"
           "box service holds; dry season holds; troughs empty holds" "Under dry season: 0.210 L/s"
      NOT "What fails")
tells(0 RUN review ${model} -v
      SAYS "The works at spring wall" "The works at sand box" "of stone, about" "litres of bleach"
           "the face gives" "keeps back grains down to" "over its lip" "the outlet of" "a month."
           "box sand box: shut V1, V2, open bypass valve" "shows no trend" "Each week")
tells(0 RUN review ${model} --upkeep
      SAYS "Upkeep of Quill hollow" "Open W1 and W2" "Work the float of yard tank" "shows no trend"
      NOT "Every rule")
foreach(setting IN LISTS settings)
  if(setting STREQUAL "dry season")  # a claim of the wet spring, held against the dry one
    tells(1 RUN review ${model} --setting ${setting} SAYS "it fails" "0.210 L/s")
  else()
    tells(0 RUN review ${model} --setting ${setting} SAYS "Nothing that can be judged fails")
  endif()
endforeach()

# flow: what arrives; the claims are named and not judged, and a drier day of the log is told.
tells(0 RUN flow ${model} SAYS "It delivers" "The model quotes 4 claims" "2024-08-28" "yard tank" "box service")
foreach(setting IN LISTS settings)
  tells(0 RUN flow ${model} --setting ${setting} SAYS "yard tank" "Both balances were worked out again")
endforeach()
# Without its claims it is a yes under every setting.
file(READ ${model} text)
string(REGEX REPLACE "\nclaims:\n(  [^\n]*\n)+" "\n" plain "${text}")
if(plain STREQUAL text)
  message(FATAL_ERROR "the claims were not found in the example")
endif()
file(WRITE ${scratch}/plain.yaml "${plain}")
tells(0 RUN flow ${scratch}/plain.yaml SAYS "yard tank" "So it does under every setting")

# fill: the course of it.
tells(0 RUN fill ${model} SAYS "yard tank is full after" "float valve shuts" "full to the lip, spill begins")
foreach(setting IN LISTS settings)
  tells(0 RUN fill ${model} --setting ${setting} SAYS "yard tank is full after")
endforeach()

# size: the main left open, the bypass and the box service setting with it.
set(open "${plain}")
string(REPLACE "    to: yard tank\n    pipe: PE100 SDR17 40 mm\n"
       "    to: yard tank\n    pipe: {choose: [PE100 SDR17 32 mm, PE100 SDR17 40 mm, PE100 SDR17 50 mm]}\n" open "${open}")
string(REPLACE "asks:\n" "asks:\n  - {at: yard tank, flow: 0.2 L/s}\n" open "${open}")
file(WRITE ${scratch}/open.yaml "${open}")
tells(0 RUN size ${scratch}/open.yaml SAYS "the pipe below does, for 98.1 kg" "main PE100 SDR17 32 mm")
