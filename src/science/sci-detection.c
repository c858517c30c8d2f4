#include "sci-detection.h"

#include <assert.h>

typedef struct {
  int64_t min_gap;
  SciGapFrom from;
  bool strict;
} Rule;

static bool
is_apart (const Rule *rule, int64_t start, int64_t first_start, int64_t last_end)
{
  int64_t gap = start - (rule->from == SCI_GAP_FROM_LAST ? last_end : first_start);

  if (rule->min_gap <= 0)
    return true;
  return rule->strict ? gap > rule->min_gap : gap >= rule->min_gap;
}

size_t
sci_detections (const int64_t *start_ms,
                const int64_t *end_ms,
                size_t n,
                int64_t min_gap_ms,
                SciGapFrom from,
                bool strict,
                size_t *detection)
{
  const Rule rule = { min_gap_ms, from, strict };
  int64_t first_start = 0, last_end = 0;
  size_t count = 0;

  for (size_t i = 0; i < n; i++)
    {
      int64_t start = start_ms[i];
      int64_t end = end_ms != NULL && end_ms[i] > start ? end_ms[i] : start;

      assert (i == 0 || start >= start_ms[i - 1]);
      if (count == 0 || is_apart (&rule, start, first_start, last_end))
        {
          first_start = start;
          count++;
        }
      if (i == 0 || end > last_end)
        last_end = end;
      if (detection != NULL)
        detection[i] = count - 1;
    }
  return count;
}
