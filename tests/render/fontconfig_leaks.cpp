// fontconfig keeps its patterns to the end of the process and points to them by offsets, which the leak
// sanitizer cannot follow; it would take all of them for leaks.
extern "C" const char* __lsan_default_suppressions();

extern "C" const char* __lsan_default_suppressions() {
  return "leak:libfontconfig.so\n";
}
