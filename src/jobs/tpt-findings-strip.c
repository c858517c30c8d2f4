#include "config.h"

#include "tpt-findings-strip-private.h"

#include <glib/gi18n-lib.h>

#include "tpt-strip.h"

static const char *
get_place_title (TptRecord *place)
{
  const char *name = tpt_record_get_text (place, "name");

  return name != NULL ? name : tpt_record_get_code (place);
}

/* (transfer full): the row of each place, -1 for none. */
static int *
add_rows (TptFigure *strip, TptPass *pass, GArray *detections, gboolean named)
{
  int *rows = g_new (int, pass->places->len + 1);
  g_autofree gboolean *seen = g_new0 (gboolean, pass->places->len + 1);

  for (guint i = 0; i < detections->len; i++)
    seen[g_array_index (detections, TptDetection, i).place] = TRUE;
  for (guint i = 0; i < pass->places->len; i++)
    {
      TptRecord *place = pass->places->pdata[i];
      g_autofree char *number = g_strdup_printf (_("Station %u"), i + 1);

      rows[i] = pass->nights[i] > 0 || seen[i]
                  ? tpt_strip_add_row (strip, named ? get_place_title (place) : number, named ? tpt_record_get_code (place) : NULL,
                                       pass->nights[i])
                  : -1;
    }
  return rows;
}

static void
add_effort (TptFigure *strip, int row, const TptEffort *effort)
{
  for (guint i = 0; i < effort->worked->len; i++)
    tpt_strip_add_effort (strip, row, g_array_index (effort->worked, TptRange, i));
  for (guint i = 0; i < effort->gaps->len; i++)
    {
      const TptGap *gap = &g_array_index (effort->gaps, TptGap, i);

      tpt_strip_add_gap (strip, row, gap->range, tpt_gap_why_label (gap->why));
    }
}

static void
add_detections (TptFigure *strip, TptPass *pass, const int *rows, GArray *detections)
{
  g_autoptr (GPtrArray) titles = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < pass->species->len; i++)
    g_ptr_array_add (titles, tpt_species_title (pass->species->pdata[i]));
  for (guint i = 0; i < detections->len; i++)
    {
      const TptDetection *detection = &g_array_index (detections, TptDetection, i);

      if (rows[detection->place] >= 0)
        tpt_strip_add_detection (strip, rows[detection->place], detection->at, titles->pdata[detection->species],
                                 detection->animals);
    }
}

TptFigure *
tpt_findings_strip_new (TptPass *pass, GArray *detections, gboolean named)
{
  TptRange range = pass->period.from != TPT_NO_INSTANT ? pass->period : (TptRange){ 0, TPT_DAY };
  TptFigure *strip = tpt_strip_new (range, pass->zone);
  g_autofree int *rows = add_rows (strip, pass, detections, named);

  for (guint i = 0; i < pass->efforts->len; i++)
    {
      int row = rows[g_array_index (pass->effort_place, guint, i)];

      if (row >= 0)
        add_effort (strip, row, pass->efforts->pdata[i]);
    }
  add_detections (strip, pass, rows, detections);
  return strip;
}
