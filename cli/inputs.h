#pragma once
// The files that this run has read, so that its answer is not written over one of them.
#include <sys/stat.h>

namespace cli {

/// Takes note of the file behind an open descriptor.
void remember_input(int descriptor);

/// True if that very file was read, under whatever name.
bool was_read(const struct stat& file);

}  // namespace cli
