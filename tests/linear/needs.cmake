# Dense solutions to compare with.
find_package(Eigen3 3.4 REQUIRED NO_MODULE)
target_link_libraries(linear_test PRIVATE Eigen3::Eigen)
