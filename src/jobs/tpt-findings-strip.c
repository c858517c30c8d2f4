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

static void
mark_places (const TptStripSet *set, gboolean *wanted)
{
  for (guint i = 0; i < set->pass->places->len; i++)
    wanted[i] |= set->pass->nights[i] > 0;
  for (guint i = 0; i < set->detections->len; i++)
    wanted[g_array_index (set->detections, TptDetection, i).place] = TRUE;
}

/* (transfer full): the row of each place, -1 for none. */
static int *
add_rows (TptFigure *strip, const TptStripSet *set, const TptStripSet *second, gboolean named)
{
  TptPass *pass = set->pass;
  int *rows = g_new (int, pass->places->len + 1);
  g_autofree gboolean *wanted = g_new0 (gboolean, pass->places->len + 1);

  mark_places (set, wanted);
  if (second != NULL)
    mark_places (second, wanted);
  for (guint i = 0; i < pass->places->len; i++)
    {
      TptRecord *place = pass->places->pdata[i];
      g_autofree char *number = g_strdup_printf (_("Station %u"), i + 1);

      rows[i] = wanted[i] ? tpt_strip_add_row (strip, named ? get_place_title (place) : number,
                                               named ? tpt_record_get_code (place) : NULL, pass->nights[i])
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

/* What adds a set to a strip. */
typedef struct {
  TptFigure *strip;
  const TptStripSet *set;
  const int *rows;   /* of each place of its pass */
  gint64 shift;      /* ms onto the axis */
  gboolean second;
  gboolean named;
} Adder;

static void
add_sightings (const Adder *adder)
{
  TptPass *pass = adder->set->pass;
  g_autoptr (GPtrArray) titles = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < pass->species->len; i++)
    g_ptr_array_add (titles, tpt_species_title (pass->species->pdata[i]));
  for (guint i = 0; i < adder->set->detections->len; i++)
    {
      const TptDetection *detection = &g_array_index (adder->set->detections, TptDetection, i);
      TptStripSighting sighting = {
        .at = detection->at + adder->shift,
        .when = { detection->at, detection->until + 1 },
        .what = titles->pdata[detection->species],
        .key = adder->named ? tpt_record_get_code (pass->species->pdata[detection->species]) : NULL,
        .count = detection->animals,
        .second = adder->second,
      };

      if (adder->rows[detection->place] >= 0)
        tpt_strip_add_sighting (adder->strip, adder->rows[detection->place], &sighting);
    }
}

static void
add_efforts (const Adder *adder)
{
  TptPass *pass = adder->set->pass;

  for (guint i = 0; i < pass->efforts->len; i++)
    {
      const TptEffort *effort = pass->efforts->pdata[i];
      int row = adder->rows[g_array_index (pass->effort_place, guint, i)];

      if (row >= 0 && !adder->second)
        add_effort (adder->strip, row, effort);
      for (guint k = 0; row >= 0 && adder->second && k < effort->worked->len; k++)
        {
          TptRange worked = g_array_index (effort->worked, TptRange, k);
          TptRange shifted = { worked.from + adder->shift, worked.to + adder->shift };

          tpt_strip_add_second_effort (adder->strip, row, shifted, worked);
        }
    }
}

/* Where a period was left open it begins with the effort. */
static TptInstant
find_begin (TptPass *pass)
{
  return pass->filter->range.from != TPT_NO_INSTANT ? pass->filter->range.from : pass->period.from;
}

static gboolean
is_of_another_period (TptPass *pass, TptPass *of)
{
  return pass->filter->range.from != of->filter->range.from || pass->filter->range.to != of->filter->range.to;
}

static void
add_second (TptFigure *strip, const TptStripSet *set, const TptStripSet *second, const int *rows, gboolean named)
{
  Adder adder = { strip, second, rows, 0, TRUE, named };

  if (is_of_another_period (second->pass, set->pass) && set->pass->period.from != TPT_NO_INSTANT &&
      second->pass->period.from != TPT_NO_INSTANT)
    {
      adder.shift = find_begin (set->pass) - find_begin (second->pass);
      add_efforts (&adder);
    }
  add_sightings (&adder);
}

/* Long enough for the longer of two periods. */
static TptRange
find_axis (const TptStripSet *set, const TptStripSet *second)
{
  TptRange range = set->pass->period;
  const TptRange *other = second != NULL ? &second->pass->period : NULL;

  if (range.from == TPT_NO_INSTANT)
    return other != NULL && other->from != TPT_NO_INSTANT ? *other : (TptRange){ 0, TPT_DAY };
  if (other != NULL && other->from != TPT_NO_INSTANT && is_of_another_period (second->pass, set->pass))
    range.to = MAX (range.to, other->to + find_begin (set->pass) - find_begin (second->pass));
  return range;
}

TptFigure *
tpt_findings_strip_new (const TptStripSet *set, const TptStripSet *second, gboolean named)
{
  TptRange axis = find_axis (set, second);
  TptFigure *strip = second != NULL ? tpt_strip_new_pair (axis, set->pass->zone, set->label, second->label)
                                    : tpt_strip_new (axis, set->pass->zone);
  g_autofree int *rows = add_rows (strip, set, second, named);
  Adder adder = { strip, set, rows, 0, FALSE, named };

  g_assert (second == NULL || second->pass->places->len == set->pass->places->len);
  add_efforts (&adder);
  add_sightings (&adder);
  if (second != NULL)
    add_second (strip, set, second, rows, named);
  return strip;
}
