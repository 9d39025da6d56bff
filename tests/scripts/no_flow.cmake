# Whether water runs is asked of one threshold, network/no_flow.h. A second one would let two rules of one answer
# disagree about the same trickle.
cmake_minimum_required(VERSION 3.25)

# Sets `faults` to the lines under `root` that bring a threshold of their own.
function(find_thresholds root)
  set(faults "")
  file(GLOB_RECURSE files RELATIVE ${root} ${root}/lib/runnel/*.h ${root}/lib/runnel/*.cpp ${root}/cli/*.cpp)
  list(REMOVE_ITEM files lib/runnel/network/no_flow.h)
  foreach(file IN LISTS files)
    # A constant of that name, or a flow held against a bare figure.
    file(STRINGS ${root}/${file} lines
         REGEX "(no_flow|nothing)(_m3s)? *= *[0-9]|(_m3s|_flow|flow) *[<>]=? *[0-9.]+e-")
    foreach(line IN LISTS lines)
      string(REPLACE ";" "" line "${line}")
      list(APPEND faults "${file}: ${line}")
    endforeach()
  endforeach()
  set(faults "${faults}" PARENT_SCOPE)
endfunction()

# The search itself must be able to find one.
set(trial ${BUILD}/no_flow_trial)
file(WRITE ${trial}/lib/runnel/verdict/a.cpp "constexpr double no_flow_m3s = 1e-9;\n")
file(WRITE ${trial}/lib/runnel/report/b.cpp "if (place.inflow_m3s > 1e-9) return;\n")
find_thresholds(${trial})
list(LENGTH faults found)
if(NOT found EQUAL 2)
  message(FATAL_ERROR "two thresholds were planted, ${found} found: ${faults}")
endif()
file(REMOVE_RECURSE ${trial})

find_thresholds(${SOURCE})
if(faults)
  list(JOIN faults "\n  " told)
  message(FATAL_ERROR "ask network::no_flow_m3s instead:\n  ${told}")
endif()
