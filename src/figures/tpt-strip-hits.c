#include "config.h"

#include "tpt-strip-private.h"

static void
hit_gaps (const TptStrip *strip,
          const TptStripLayout *layout,
          guint index,
          TptHitTest *test)
{
  const TptStripRow *row = g_ptr_array_index (strip->rows, index);

  for (guint i = 0; i < row->gaps->len; i++)
    {
      const TptStripGap *gap = &g_array_index (row->gaps, TptStripGap, i);
      TptFigureRect rect = tpt_strip_get_effort_rect (layout, index, &gap->range, 0);

      if (!tpt_hit_test_wants (test, TPT_LAYER_AREA, &rect))
        continue;
      tpt_hit_test_take (test, TPT_LAYER_AREA, &rect, TPT_HIT_GAP, index, i, tpt_strip_say_gap (strip, row, gap),
                         row->key);
      tpt_hit_test_tell (test, NULL, gap->range, NAN, NAN);
    }
}

static void
hit_effort (const TptStrip *strip,
            const TptStripLayout *layout,
            guint index,
            TptHitTest *test)
{
  const TptStripRow *row = g_ptr_array_index (strip->rows, index);

  for (guint i = 0; i < row->effort->len; i++)
    {
      const TptStripEffort *effort = &g_array_index (row->effort, TptStripEffort, i);
      TptFigureRect rect = tpt_strip_get_effort_rect (layout, index, &effort->worked, effort->set);

      if (!tpt_hit_test_wants (test, TPT_LAYER_BAR, &rect))
        continue;
      tpt_hit_test_take (test, TPT_LAYER_BAR, &rect, TPT_HIT_EFFORT, index, i,
                         tpt_strip_say_effort (strip, row, effort), row->key);
      tpt_hit_test_tell (test, NULL, effort->means, NAN, NAN);
    }
}

static void
hit_ticks (const TptStrip *strip,
           const TptStripLayout *layout,
           guint index,
           TptHitTest *test)
{
  const TptStripRow *row = g_ptr_array_index (strip->rows, index);

  for (guint i = 0; i < row->detections->len; i++)
    {
      const TptStripDetection *detection = &g_array_index (row->detections, TptStripDetection, i);
      TptFigureRect rect = tpt_strip_get_tick_rect (layout, index, detection->at, detection->set);

      if (!tpt_hit_test_wants (test, TPT_LAYER_MARK, &rect))
        continue;
      tpt_hit_test_take (test, TPT_LAYER_MARK, &rect, TPT_HIT_DETECTION, index, i,
                         tpt_strip_say_detection (strip, row, detection), row->key);
      tpt_hit_test_tell (test, detection->key, detection->when, NAN, NAN);
    }
}

static void
hit_row (const TptStrip *strip,
         const TptStripLayout *layout,
         guint index,
         TptHitTest *test)
{
  const TptStripRow *row = g_ptr_array_index (strip->rows, index);
  TptFigureRect rect = tpt_strip_get_row_rect (layout, index);

  if (tpt_hit_test_wants (test, TPT_LAYER_ROW, &rect))
    tpt_hit_test_take (test, TPT_LAYER_ROW, &rect, TPT_HIT_ROW, index, -1, tpt_strip_say_row (strip, row), row->key);
  hit_gaps (strip, layout, index, test);
  hit_effort (strip, layout, index, test);
  hit_ticks (strip, layout, index, test);
}

/* Only the row under the pointer and its neighbours can be near enough. */
void
tpt_strip_hit (const TptStrip *strip,
               TptCanvas *canvas,
               const TptFigureRect *area,
               TptHitTest *test)
{
  TptStripLayout layout;

  tpt_strip_lay_out (strip, canvas, area, &layout);
  for (guint i = 0; i < layout.n_shown; i++)
    {
      TptFigureRect rect = tpt_strip_get_row_rect (&layout, i);

      if (test->y >= rect.y - canvas->em && test->y <= rect.y + rect.height + canvas->em)
        hit_row (strip, &layout, i, test);
    }
}
