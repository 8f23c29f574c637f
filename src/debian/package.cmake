# cpack makes loadlight_<version>_<architecture>.deb out of what is installed, for Debian 12.
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME loadlight)
set(CPACK_PACKAGE_CONTACT "The Loadlight contributors <loadlight@example.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "label and scan station for packages in a steam sterilizer")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION misc)
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION "Prints labels for packages, keeps the record of sterilizer loads and answers whether a package
may be opened. An indicator or a record does not prove sterility: the makers' instructions, local codes and
licensed practice come first.")
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_DEPENDS "adduser, tzdata, fontconfig, fonts-noto-core, fonts-dejavu-core, fonts-droid-fallback")
set(CPACK_DEBIAN_PACKAGE_CONTROL_EXTRA
  ${CMAKE_CURRENT_LIST_DIR}/preinst ${CMAKE_CURRENT_LIST_DIR}/postinst ${CMAKE_CURRENT_LIST_DIR}/prerm
  ${CMAKE_CURRENT_LIST_DIR}/postrm ${CMAKE_CURRENT_LIST_DIR}/conffiles)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
# What only a package has: everything else is installed by hand as well.
install(FILES ${CMAKE_CURRENT_LIST_DIR}/loadlight.service DESTINATION /lib/systemd/system COMPONENT debian EXCLUDE_FROM_ALL)
install(FILES ${CMAKE_CURRENT_LIST_DIR}/loadlight.default DESTINATION /etc/default RENAME loadlight COMPONENT debian EXCLUDE_FROM_ALL)
set(CPACK_COMPONENTS_ALL Unspecified debian)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_COMPONENTS_GROUPING ALL_COMPONENTS_IN_ONE)
include(CPack)
