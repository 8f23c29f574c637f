extern "C" int loadlight_example(int number) {
  return number + 1;
}
