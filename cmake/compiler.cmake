# Warnings, numeric rules and tools every target shares.
add_library(pitwright_warnings INTERFACE)
target_compile_options(pitwright_warnings INTERFACE -Wall -Wextra -Wpedantic -Wconversion -Wshadow)
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
