# Warnings, numeric rules and tools every target shares.
add_library(pitwright_warnings INTERFACE)
target_compile_options(pitwright_warnings INTERFACE -Wall -Wextra -Wpedantic -Wconversion -Wshadow)
if(CMAKE_CXX_COMPILER_ID STREQUAL GNU AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
  # GCC bug 105651: false alarms for `"text" + std::string` when optimizing.
  target_compile_options(pitwright_warnings INTERFACE -Wno-restrict)
endif()
if(PITWRIGHT_WERROR)
  target_compile_options(pitwright_warnings INTERFACE -Werror)
endif()

# One answer everywhere: no fused multiply-add that one build has and another lacks.
add_compile_options(-ffp-contract=off)

find_program(PITWRIGHT_CCACHE ccache)
if(PITWRIGHT_CCACHE)
  set(CMAKE_CXX_COMPILER_LAUNCHER ${PITWRIGHT_CCACHE})
endif()

find_program(PITWRIGHT_MOLD mold)
if(PITWRIGHT_MOLD)
  add_link_options(-fuse-ld=mold)
endif()
