#pragma once
// A new text in the place of a file, whole or not at all.
#include <string>
#include <string_view>

namespace cli {

/// The folder that a path lies in; "." if the path names none.
std::string folder_of(const std::string& path);

/// Writes all of it, going on after signals. False with errno set if that fails.
bool write_all(int descriptor, std::string_view text);

/// Puts `text` where `path` is; empty if that was done, else the reason. A symbolic link stays a link and
/// its target is written; mode and owner of an old file are kept. Refused are a file that was read, one that
/// may not be written, one with a second name (a hard link, which would keep the old text), a link to
/// nothing. Precondition: what is there is no device, pipe or socket.
std::string replace_file(const std::string& text, const std::string& path);

}  // namespace cli
