# Builds the page with npm, and puts the finished files into a folder of the build tree. Run by `cmake -P` when a source of
# the page changed.
#   PAGE   the page's sources
#   OUT    the folder for the finished files
#   NPM    npm, or something that ends in NOTFOUND
cmake_minimum_required(VERSION 3.25)

if(NOT NPM)
  message(FATAL_ERROR "The page needs Node 18 or newer with npm, and npm is not on the PATH. Install both "
          "(`apt install nodejs npm`), or give a finished page: -DRINDWATCH_PAGE_DIR=FOLDER.")
endif()

function(run_npm)
  execute_process(COMMAND ${NPM} ${ARGV} --no-progress WORKING_DIRECTORY ${PAGE} RESULT_VARIABLE result
                  OUTPUT_VARIABLE said ERROR_VARIABLE said)
  if(NOT result EQUAL 0)
    list(JOIN ARGV " " words)
    message(FATAL_ERROR "The page could not be built: `npm ${words}` in ${PAGE} failed.\n${said}")
  endif()
endfunction()

# Several build trees share the page's folder: one at a time.
file(MAKE_DIRECTORY ${PAGE}/dist)
file(LOCK ${PAGE}/dist/.lock TIMEOUT 600)

# npm writes this file when it is done.
set(installed ${PAGE}/node_modules/.package-lock.json)
if(NOT EXISTS ${installed} OR ${PAGE}/package-lock.json IS_NEWER_THAN ${installed})
  run_npm(ci --no-audit --no-fund)
  file(TOUCH ${installed})
endif()
run_npm(run build --silent)

file(REMOVE_RECURSE ${OUT})
file(COPY ${PAGE}/dist/ DESTINATION ${OUT} PATTERN ".lock" EXCLUDE)
