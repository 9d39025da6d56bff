#pragma once
// A place in a text a person wrote. Lines and columns count from 1, columns in bytes.
#include <string>

namespace runnel {

struct Mark {
  std::string file;  ///< as the user named it; "-" for standard input
  int line = 0;      ///< 1-based; 0 = unknown
  int column = 0;    ///< 1-based; 0 = unknown
  int length = 1;    ///< how many characters the caret underlines

  bool known() const { return line > 0; }
};

}  // namespace runnel
