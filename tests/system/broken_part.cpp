extern "C" int loadlight_nobody_has_this();
extern "C" int loadlight_broken() {
  return loadlight_nobody_has_this();
}
