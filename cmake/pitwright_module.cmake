# pitwright_module(<name> SOURCES a.cpp ... USES lower_module ... LINKS third::party ... TEST_USES ...)
#
# Makes the library <name>. Every *_test.cpp beside the sources joins one program
# <name>_test, so a test cannot be forgotten; every *_bench.cpp joins <name>_bench. USES may
# name only modules made earlier: the reading order of the CMake lists is the layer order, free
# of cycles. TEST_USES are modules that only the tests see; they too must come earlier.
function(pitwright_module name)
  cmake_parse_arguments(PARSE_ARGV 1 arg "" "" "SOURCES;USES;LINKS;TEST_USES")
  foreach(lower IN LISTS arg_USES arg_TEST_USES)
    if(NOT TARGET ${lower})
      message(FATAL_ERROR "${name} uses ${lower}, which is not a lower module")
    endif()
  endforeach()

  add_library(${name} STATIC ${arg_SOURCES})
  cmake_path(GET CMAKE_CURRENT_SOURCE_DIR PARENT_PATH layer)
  target_include_directories(${name} PUBLIC ${layer})
  target_link_libraries(${name} PUBLIC ${arg_USES} ${arg_LINKS} PRIVATE pitwright_warnings)

  file(GLOB tests CONFIGURE_DEPENDS *_test.cpp)
  if(tests AND PITWRIGHT_TESTS)
    add_executable(${name}_test ${tests})
    target_compile_definitions(${name}_test PRIVATE PITWRIGHT_SOURCE_DIR="${PROJECT_SOURCE_DIR}")
    target_link_libraries(${name}_test PRIVATE ${name} ${arg_TEST_USES} pitwright_warnings GTest::gmock_main)
    gtest_discover_tests(${name}_test DISCOVERY_TIMEOUT 60)
  endif()
  file(GLOB benches CONFIGURE_DEPENDS *_bench.cpp)
  if(benches AND PITWRIGHT_BENCH)
    add_executable(${name}_bench ${benches})
    target_link_libraries(${name}_bench PRIVATE ${name} pitwright_warnings benchmark::benchmark_main)
  endif()
endfunction()
