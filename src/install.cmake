# Where everything goes under the prefix: program, templates, samples, manual page, shell completion, and the
# core library for other projects (component "core", which needs nothing else built). Parts install
# themselves (loadlight_part).
include(CMakePackageConfigHelpers)

if(TARGET loadlight)
  install(TARGETS loadlight RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
  install(FILES main/loadlight.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
  install(FILES main/loadlight.bash-completion
          DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME loadlight)
  install(DIRECTORY ${PROJECT_SOURCE_DIR}/templates/ DESTINATION ${CMAKE_INSTALL_DATADIR}/loadlight)
  install(DIRECTORY ${PROJECT_SOURCE_DIR}/samples/office ${PROJECT_SOURCE_DIR}/samples/cycles DESTINATION ${CMAKE_INSTALL_DOCDIR}/examples)
endif()

set(core_package ${CMAKE_INSTALL_LIBDIR}/cmake/LoadlightCore)
set_target_properties(loadlight_core PROPERTIES EXPORT_NAME core)
install(TARGETS loadlight_core EXPORT LoadlightCoreTargets
        ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR} COMPONENT core)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/include/loadlight/core
        DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/loadlight COMPONENT core)
install(EXPORT LoadlightCoreTargets NAMESPACE loadlight:: DESTINATION ${core_package} COMPONENT core)
configure_package_config_file(LoadlightCoreConfig.cmake.in ${CMAKE_CURRENT_BINARY_DIR}/LoadlightCoreConfig.cmake
                              INSTALL_DESTINATION ${core_package})
write_basic_package_version_file(${CMAKE_CURRENT_BINARY_DIR}/LoadlightCoreConfigVersion.cmake
                                 COMPATIBILITY SameMinorVersion)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/LoadlightCoreConfig.cmake
              ${CMAKE_CURRENT_BINARY_DIR}/LoadlightCoreConfigVersion.cmake
        DESTINATION ${core_package} COMPONENT core)
