# Compiles data/catalogue/*.csv into the program: ids as an enumeration, rows as a table.

file(GLOB BEETWRIGHT_CATALOGUE CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/data/catalogue/*.csv)
list(SORT BEETWRIGHT_CATALOGUE)

if(BEETWRIGHT_FOR_BROWSER)
  # The tool runs here, not in the browser.
  set(tool ${PROJECT_BINARY_DIR}/catalogue_to_cpp)
  add_custom_command(OUTPUT ${tool} DEPENDS ${PROJECT_SOURCE_DIR}/tools/catalogue_to_cpp.cpp
    COMMAND c++ -std=c++20 -O1 -o ${tool} ${PROJECT_SOURCE_DIR}/tools/catalogue_to_cpp.cpp)
else()
  add_executable(catalogue_to_cpp tools/catalogue_to_cpp.cpp)
  target_compile_options(catalogue_to_cpp PRIVATE ${BEETWRIGHT_WARNINGS})
  set(tool catalogue_to_cpp)
endif()

set(BEETWRIGHT_GENERATED ${PROJECT_BINARY_DIR}/generated)
file(MAKE_DIRECTORY ${BEETWRIGHT_GENERATED})
add_custom_command(
  OUTPUT ${BEETWRIGHT_GENERATED}/catalogue_ids.inc ${BEETWRIGHT_GENERATED}/catalogue_rows.inc
  COMMAND ${tool} ${BEETWRIGHT_GENERATED} ${BEETWRIGHT_CATALOGUE}
  DEPENDS ${tool} ${BEETWRIGHT_CATALOGUE}
  COMMENT "Compiling in the catalogue of constants")
add_custom_target(catalogue_code DEPENDS
  ${BEETWRIGHT_GENERATED}/catalogue_ids.inc ${BEETWRIGHT_GENERATED}/catalogue_rows.inc)
