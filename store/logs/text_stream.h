#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>

#include "base/result.h"
#include "logs/encoding.h"

namespace pitwright::logs {

/// The text of a file, block by block, so that a large file costs no more memory than a small one.
/// UTF-16 arrives as UTF-8, a lone CR as LF; a last line without an end gets one.
class TextStream {
 public:
  /// Fails: not_found; bad_input for a directory, an empty or a binary file.
  static Result<TextStream> open(const std::filesystem::path& path);

  TextStream(TextStream&& other) noexcept;
  TextStream& operator=(TextStream&&) = delete;
  TextStream(const TextStream&) = delete;
  TextStream& operator=(const TextStream&) = delete;
  ~TextStream();

  /// Whole lines at hand; ends with '\n' unless empty. Valid until the next call of extend().
  std::string_view window() const { return {buffer_.data() + begin_, lines_end_ - begin_}; }
  void consume(std::size_t n) { begin_ += n; }
  /// Adds the next block to the window. False: there is no more.
  bool extend();

  /// Whether reading broke off before the end of the file.
  bool failed() const { return failed_; }
  EncodingGuess encoding() const { return encoding_; }
  bool lone_cr() const { return lone_cr_; }
  std::uintmax_t file_size() const { return file_size_; }

 private:
  TextStream(int fd, std::uintmax_t size) : fd_(fd), file_size_(size) {}
  std::size_t read_raw(char* to, std::size_t n);
  void read_block();
  void look_at_first_block();

  int fd_;
  std::uintmax_t file_size_;
  EncodingGuess encoding_;
  Utf16Decoder decoder_{Encoding::utf16_le};
  bool lone_cr_ = false;
  bool at_end_ = false;
  bool failed_ = false;
  std::string buffer_;  ///< [begin_, lines_end_) whole lines, then part of one
  std::size_t begin_ = 0;
  std::size_t lines_end_ = 0;
  std::size_t end_ = 0;
};

}  // namespace pitwright::logs
