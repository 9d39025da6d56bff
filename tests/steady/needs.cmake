# The second solver of kinsol_test.cpp: KINSOL with the sparse factorisation KLU, Debian libsundials-dev
# and libsuitesparse-dev.
find_path(runnel_sundials_include sunlinsol/sunlinsol_klu.h REQUIRED)
find_path(runnel_klu_include klu.h PATH_SUFFIXES suitesparse REQUIRED)
target_include_directories(steady_test SYSTEM PRIVATE ${runnel_sundials_include} ${runnel_klu_include})
foreach(name sundials_kinsol sundials_nvecserial sundials_sunmatrixsparse sundials_sunlinsolklu)
  find_library(runnel_${name} ${name} REQUIRED)
  target_link_libraries(steady_test PRIVATE ${runnel_${name}})
endforeach()
# The dense solves of trees_test.cpp.
find_package(Eigen3 3.4 REQUIRED NO_MODULE)
target_link_libraries(steady_test PRIVATE Eigen3::Eigen)
# The tables of pocket_law_test.cpp.
find_package(nlohmann_json REQUIRED)
target_link_libraries(steady_test PRIVATE nlohmann_json::nlohmann_json)
