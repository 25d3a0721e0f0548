# Compiles data/catalogue/*.csv into the program: ids as an enumeration, rows as a table.

file(GLOB BEETWRIGHT_CATALOGUE CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/data/catalogue/*.csv)
list(SORT BEETWRIGHT_CATALOGUE)

add_executable(catalogue_to_cpp tools/catalogue_to_cpp.cpp)
target_compile_options(catalogue_to_cpp PRIVATE ${BEETWRIGHT_WARNINGS})

set(BEETWRIGHT_GENERATED ${PROJECT_BINARY_DIR}/generated)
file(MAKE_DIRECTORY ${BEETWRIGHT_GENERATED})
add_custom_command(
  OUTPUT ${BEETWRIGHT_GENERATED}/catalogue_ids.inc ${BEETWRIGHT_GENERATED}/catalogue_rows.inc
  COMMAND catalogue_to_cpp ${BEETWRIGHT_GENERATED} ${BEETWRIGHT_CATALOGUE}
  DEPENDS catalogue_to_cpp ${BEETWRIGHT_CATALOGUE}
  COMMENT "Compiling in the catalogue of constants")
add_custom_target(catalogue_code DEPENDS
  ${BEETWRIGHT_GENERATED}/catalogue_ids.inc ${BEETWRIGHT_GENERATED}/catalogue_rows.inc)
