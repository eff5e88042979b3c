#include "early/early.h"
// A comment may say std::cout, and so may a text.
inline const char* text() { return "std::cout"; }
inline void speak() { std::cout << text(); }
