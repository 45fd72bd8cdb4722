#include "logs/text_stream.h"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <system_error>
#include <utility>

#include <fcntl.h>
#include <unistd.h>

namespace pitwright::logs {
namespace {

constexpr std::size_t block = std::size_t{256} * 1024;
/// A line longer than this is cut: no table has one.
constexpr std::size_t longest_line = std::size_t{8} * 1024 * 1024;

}  // namespace

TextStream::TextStream(TextStream&& other) noexcept
    : fd_(std::exchange(other.fd_, -1)),
      file_size_(other.file_size_),
      encoding_(other.encoding_),
      decoder_(other.decoder_),
      lone_cr_(other.lone_cr_),
      at_end_(other.at_end_),
      failed_(other.failed_),
      buffer_(std::move(other.buffer_)),
      begin_(other.begin_),
      lines_end_(other.lines_end_),
      end_(other.end_) {}

TextStream::~TextStream() {
  if (fd_ >= 0) ::close(fd_);
}

Result<TextStream> TextStream::open(const std::filesystem::path& path) {
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  if (!std::filesystem::exists(status)) {
    return fail(ErrorKind::not_found, "{}: no such file", path.string());
  }
  if (std::filesystem::is_directory(status)) {
    return fail(ErrorKind::bad_input, "{}: is a directory, not a log", path.string());
  }
  const int fd = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (fd < 0) {
    return fail(ErrorKind::bad_input, "{}: cannot be read: {}", path.string(),
                std::generic_category().message(errno));
  }
  const auto size = std::filesystem::file_size(path, error);
  TextStream stream(fd, error ? 0 : size);
  stream.look_at_first_block();
  if (stream.failed_) return fail(ErrorKind::bad_input, "{}: cannot be read", path.string());
  if (stream.end_ == 0) return fail(ErrorKind::bad_input, "{}: the file is empty", path.string());
  const std::string_view text(stream.buffer_.data(), std::min(stream.end_, std::size_t{65536}));
  if (const auto kind = binary_kind(text)) {
    return fail(ErrorKind::bad_input, "{}: not a table of text but {}", path.string(), *kind);
  }
  if (stream.lines_end_ == 0 || stream.at_end_) stream.extend();
  return stream;
}

std::size_t TextStream::read_raw(char* to, std::size_t n) {
  std::size_t got = 0;
  while (got < n && !at_end_) {
    const auto r = ::read(fd_, to + got, n - got);
    if (r < 0 && errno == EINTR) continue;
    failed_ = failed_ || r < 0;
    at_end_ = r <= 0;
    if (r > 0) got += static_cast<std::size_t>(r);
  }
  return got;
}

void TextStream::look_at_first_block() {
  std::string raw(block, '\0');
  raw.resize(read_raw(raw.data(), raw.size()));
  encoding_ = guess_encoding(raw);
  raw.erase(0, encoding_.mark);
  if (encoding_.encoding == Encoding::utf16_le || encoding_.encoding == Encoding::utf16_be) {
    decoder_ = Utf16Decoder(encoding_.encoding);
    std::string text;
    decoder_.decode(raw, text);
    raw = std::move(text);
  }
  lone_cr_ = !raw.contains('\n') && raw.contains('\r');
  if (lone_cr_) std::ranges::replace(raw, '\r', '\n');
  end_ = raw.size();
  buffer_ = std::move(raw);
  const auto last = buffer_.rfind('\n');
  lines_end_ = last == buffer_.npos ? 0 : last + 1;
}

/// Puts the next block behind what is held.
void TextStream::read_block() {
  const bool wide =
      encoding_.encoding == Encoding::utf16_le || encoding_.encoding == Encoding::utf16_be;
  if (wide) {
    std::string raw(block, '\0');
    raw.resize(read_raw(raw.data(), raw.size()));
    buffer_.resize(end_);
    decoder_.decode(raw, buffer_);
    end_ = buffer_.size();
  } else {
    if (buffer_.size() < end_ + block) buffer_.resize(end_ + block);
    const auto from = end_;
    end_ += read_raw(buffer_.data() + end_, block);
    if (lone_cr_) std::replace(buffer_.data() + from, buffer_.data() + end_, '\r', '\n');
  }
}

bool TextStream::extend() {
  if (begin_ > 0) {
    std::memmove(buffer_.data(), buffer_.data() + begin_, end_ - begin_);
    end_ -= begin_;
    lines_end_ -= begin_;
    begin_ = 0;
  }
  const auto held = lines_end_;
  while (lines_end_ == held) {
    if (at_end_) {
      if (end_ == lines_end_) return false;
      buffer_.resize(end_);
      buffer_ += '\n';
      lines_end_ = ++end_;
      return true;
    }
    const auto from = end_;
    read_block();
    const auto* last =
        static_cast<const char*>(::memrchr(buffer_.data() + from, '\n', end_ - from));
    if (last != nullptr) {
      lines_end_ = static_cast<std::size_t>(last - buffer_.data()) + 1;
    } else if (end_ - lines_end_ > longest_line) {
      buffer_[end_ - 1] = '\n';
      lines_end_ = end_;
    }
  }
  return true;
}

}  // namespace pitwright::logs
