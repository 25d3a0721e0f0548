# Compiles SOURCE and expects a refusal that matches MESSAGE; an empty MESSAGE expects success.
execute_process(
  COMMAND ${COMPILER} -std=c++20 -fsyntax-only -Wall -Wextra -Werror -I${INCLUDES} ${SOURCE}
  RESULT_VARIABLE code ERROR_VARIABLE said OUTPUT_QUIET)
if("${MESSAGE}" STREQUAL "")
  if(NOT code EQUAL 0)
    message(FATAL_ERROR "the control does not compile:\n${said}")
  endif()
elseif(code EQUAL 0)
  message(FATAL_ERROR "${SOURCE} compiled, and must not")
elseif(NOT said MATCHES "${MESSAGE}")
  message(FATAL_ERROR "refused for another reason than '${MESSAGE}':\n${said}")
endif()
