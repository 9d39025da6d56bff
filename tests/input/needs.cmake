# The schema test writes and reads JSON.
find_package(nlohmann_json REQUIRED)
target_link_libraries(input_test PRIVATE nlohmann_json::nlohmann_json)
