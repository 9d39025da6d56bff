# The second program of second_programme.h: GLPK, Debian libglpk-dev.
find_path(runnel_glpk_include glpk.h REQUIRED)
find_library(runnel_glpk glpk REQUIRED)
target_include_directories(sizing_test SYSTEM PRIVATE ${runnel_glpk_include})
target_link_libraries(sizing_test PRIVATE ${runnel_glpk})
