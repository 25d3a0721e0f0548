# How every library, program and test of the project is built.

set(BEETWRIGHT_WARNINGS
  -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wsign-conversion -Wnon-virtual-dtor
  -Wold-style-cast -Woverloaded-virtual -Wdouble-promotion -Wformat=2 -Werror)
# g++ 12 warns of joining strings that do not overlap (its bug 105651, mended in 13), and of the member
# of a std::variant that is not the one held.
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
  list(APPEND BEETWRIGHT_WARNINGS -Wno-restrict -Wno-maybe-uninitialized)
endif()

# clang sees through to what libstdc++ 12 itself uses in std::stable_sort.
if(CMAKE_CXX_COMPILER_ID STREQUAL "Clang")
  list(APPEND BEETWRIGHT_WARNINGS -Wno-deprecated-declarations)
endif()

function(beetwright_flags target)
  target_compile_options(${target} PRIVATE ${BEETWRIGHT_WARNINGS} -ffp-contract=off)
  target_include_directories(${target} PRIVATE ${PROJECT_SOURCE_DIR}/src ${PROJECT_SOURCE_DIR}/tests)
  if(BEETWRIGHT_SANITIZE)
    target_compile_options(${target} PRIVATE -fsanitize=${BEETWRIGHT_SANITIZE}
      -fno-sanitize-recover=all -fno-omit-frame-pointer)
    target_link_options(${target} PRIVATE -fsanitize=${BEETWRIGHT_SANITIZE})
  endif()
  # What a fuzzer reaches is counted where it is: in the libraries, not in the fuzzer's own file alone.
  if(BEETWRIGHT_FUZZ)
    target_compile_options(${target} PRIVATE -fsanitize=fuzzer-no-link)
  endif()
endfunction()

# beetwright_library(<folder> [ENGINE] [USES <folder>...] [LINK <external target>...])
# The library of one folder of src/, from every .cpp in it. ENGINE folders hold no exceptions, no
# I/O, no clock, no globals: they are compiled with -fno-exceptions so that the rule enforces itself.
function(beetwright_library folder)
  cmake_parse_arguments(ARG "ENGINE" "" "USES;LINK" ${ARGN})
  file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/*.cpp)
  if(BEETWRIGHT_FOR_BROWSER)
    set(ARG_ENGINE ON)
    # No threads, no disk and no terminal there; wasm/ has a pool of one and its own last words.
    list(FILTER sources EXCLUDE REGEX "/(pool|contract|season_folder_disk)\\.cpp$")
  endif()
  if(sources)
    set(kind PUBLIC)
    add_library(beetwright_${folder} STATIC ${sources})
    beetwright_flags(beetwright_${folder})
    if(ARG_ENGINE)
      target_compile_options(beetwright_${folder} PRIVATE -fno-exceptions)
      # Under the sanitizers most of the time goes into compiling, but for what reckons.
      if(BEETWRIGHT_SANITIZE)
        target_compile_options(beetwright_${folder} PRIVATE -O1)
      endif()
    endif()
    target_link_libraries(beetwright_${folder} PRIVATE ${ARG_LINK})
  else()
    set(kind INTERFACE)
    add_library(beetwright_${folder} INTERFACE)
  endif()
  foreach(used ${ARG_USES})
    target_link_libraries(beetwright_${folder} ${kind} beetwright_${used})
  endforeach()
endfunction()

# beetwright_tests(<folder> [USES <folder>...] [LINK <external target>...] [SLOW <test>])
# One test program for a folder of src/, from every .cpp in tests/<folder>. SLOW names the one that the
# sanitizers' run leaves out, for it would take minutes there.
function(beetwright_tests folder)
  cmake_parse_arguments(ARG "" "SLOW" "USES;LINK" ${ARGN})
  file(GLOB sources CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/tests/${folder}/*.cpp)
  if(NOT sources)
    return()
  endif()
  add_executable(test_${folder} ${sources})
  beetwright_flags(test_${folder})
  target_compile_definitions(test_${folder} PRIVATE
    BEETWRIGHT_SOURCE_DIR="${PROJECT_SOURCE_DIR}" BEETWRIGHT_BINARY_DIR="${PROJECT_BINARY_DIR}")
  target_link_libraries(test_${folder} PRIVATE beetwright_${folder} ${ARG_LINK} GTest::gtest_main)
  foreach(used ${ARG_USES})
    target_link_libraries(test_${folder} PRIVATE beetwright_${used})
  endforeach()
  set(quick)
  if(ARG_SLOW)
    set(quick TEST_FILTER "-${ARG_SLOW}")
    gtest_discover_tests(test_${folder} TEST_PREFIX ${folder}: DISCOVERY_TIMEOUT 60
      TEST_FILTER "${ARG_SLOW}" TEST_LIST slow_tests_of_${folder} PROPERTIES TIMEOUT 600 LABELS slow)
  endif()
  gtest_discover_tests(test_${folder} TEST_PREFIX ${folder}: DISCOVERY_TIMEOUT 60 ${quick}
    PROPERTIES TIMEOUT 600)
endfunction()
