#include "sci-sky.h"

#include <stdbool.h>

#define STEP_MS INT64_C (300000)
#define NEAR_MS 50

/* The passage between @low and @high, which lie on different sides. */
static int64_t
halve (SciHeightFunc height, const void *data, int64_t low, int64_t high, bool above_at_low)
{
  while (high - low > NEAR_MS)
    {
      int64_t middle = low + (high - low) / 2;

      if ((height (middle, data) >= 0) == above_at_low)
        low = middle;
      else
        high = middle;
    }
  return low + (high - low) / 2;
}

SciPassage
sci_passage (SciHeightFunc height, const void *data, int64_t from, int64_t to)
{
  SciPassage passage = { SCI_PASSAGE_CROSSES, SCI_NO_INSTANT, SCI_NO_INSTANT };
  bool above = height (from, data) >= 0;

  for (int64_t at = from; at < to; at += STEP_MS)
    {
      int64_t next = at + STEP_MS < to ? at + STEP_MS : to;
      bool then = height (next, data) >= 0;

      if (!above && then && passage.up == SCI_NO_INSTANT)
        passage.up = halve (height, data, at, next, above);
      else if (above && !then)
        passage.down = halve (height, data, at, next, above);
      above = then;
    }
  if (passage.up == SCI_NO_INSTANT && passage.down == SCI_NO_INSTANT)
    passage.kind = above ? SCI_PASSAGE_ABOVE : SCI_PASSAGE_BELOW;
  return passage;
}
