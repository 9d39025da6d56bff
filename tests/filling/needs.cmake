# Vectors and matrices of the integrator.
find_package(Eigen3 3.4 REQUIRED NO_MODULE)
target_link_libraries(filling_test PRIVATE Eigen3::Eigen)
# The reference of cvode_test.cpp: SUNDIALS CVODE, Debian libsundials-dev.
find_path(runnel_cvode_include cvode/cvode.h REQUIRED)
target_include_directories(filling_test SYSTEM PRIVATE ${runnel_cvode_include})
foreach(name sundials_cvode sundials_nvecserial sundials_sunmatrixdense sundials_sunlinsoldense)
  find_library(runnel_${name} ${name} REQUIRED)
  target_link_libraries(filling_test PRIVATE ${runnel_${name}})
endforeach()
