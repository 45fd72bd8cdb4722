#pragma once

#include <string>
#include <vector>

#include "picture/lay_picture.h"

namespace pitwright::samples {

/// A lay picture made by hand for tests of the pages: smooth fields of our own invention.
struct SampleLay {
  std::string name;
  picture::LayPicture lay;
};

SampleLay two_shelves();      ///< two settings on two grates and their difference
SampleLay one_barrel();       ///< one setting, one long grate, most of one end unknown
SampleLay three_positions();  ///< three settings and their three differences
SampleLay four_positions();   ///< four settings, spots that crowd
SampleLay even_pit();         ///< no spread at all, names full of markup
SampleLay one_spot();         ///< a single spot, a field of one node

std::vector<SampleLay> all_sample_lays();

}  // namespace pitwright::samples
