target_sources(laws_test PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/laws/changed.cpp)
