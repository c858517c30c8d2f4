#include "config.h"

#include "tpt-phrases-private.h"
#include "tpt-strip-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

char *
tpt_strip_say_detection (const TptStrip *strip,
                         const TptStripRow *row,
                         const TptStripDetection *detection)
{
  g_autofree char *when = tpt_words_instant (detection->when.from, strip->zone);

  /* Translators: station, species, number of animals, date and time. */
  if (detection->count > 0)
    return g_strdup_printf (_("%1$s: %2$s, %3$d, %4$s"), row->label, detection->what, detection->count, when);
  /* Translators: station, species, date and time. */
  return g_strdup_printf (_("%1$s: %2$s, %3$s"), row->label, detection->what, when);
}

char *
tpt_strip_say_effort (const TptStrip *strip,
                      const TptStripRow *row,
                      const TptStripEffort *effort)
{
  g_autofree char *period = tpt_words_period (effort->means, strip->zone);

  return g_strdup_printf (_("%1$s: at work %2$s"), row->label, period);
}

char *
tpt_strip_say_gap (const TptStrip *strip,
                   const TptStripRow *row,
                   const TptStripGap *gap)
{
  g_autofree char *period = tpt_words_period (gap->range, strip->zone);

  /* Translators: a station, why it did not work, and when. */
  return g_strdup_printf (_("%1$s: %2$s, %3$s"), row->label, gap->why, period);
}

/* "14 detections in 200 trap nights", with the name of the set before it. */
static char *
say_counts (const TptStrip *strip,
            guint set,
            double n_detections,
            double n_nights)
{
  g_autofree char *found = tpt_phrase_detections (n_detections);
  g_autofree char *nights = tpt_phrase_trap_nights (n_nights);

  if (strip->n_sets > 1)
    /* Translators: what was counted, "14 detections", "200 trap nights". */
    return g_strdup_printf (_("%1$s, %2$s in %3$s"), strip->names[set], found, nights);
  /* Translators: "14 detections", "200 trap nights". */
  return g_strdup_printf (_("%1$s in %2$s"), found, nights);
}

char *
tpt_strip_say_row (const TptStrip *strip,
                   const TptStripRow *row)
{
  GString *text = g_string_new (NULL);

  if (row->effort->len == 0)
    {
      g_autofree char *found = tpt_phrase_detections (row->detections->len);

      g_string_append_printf (text, _("%1$s: not at work in this period, %2$s"), row->label, found);
      return g_string_free (text, FALSE);
    }
  g_string_append_printf (text, "%s: ", row->label);
  for (guint set = 0; set < strip->n_sets; set++)
    {
      g_autofree char *counts = say_counts (strip, set, row->n_seen[set], tpt_strip_get_nights (strip, row, set));

      g_string_append_printf (text, "%s%s", set > 0 ? "; " : "", counts);
    }
  return g_string_free (text, FALSE);
}

/* The whole of it in a sentence. */
static char *
describe_sum (const TptStrip *strip)
{
  g_autofree char *period = tpt_words_period (strip->range, strip->zone);
  g_autofree char *stations = tpt_phrase_stations (strip->rows->len);
  g_autoptr (GString) counts = g_string_new (NULL);

  for (guint set = 0; set < strip->n_sets; set++)
    {
      g_autofree char *words = NULL;
      guint n_detections = 0;
      double n_nights = 0;

      for (guint i = 0; i < strip->rows->len; i++)
        {
          const TptStripRow *row = g_ptr_array_index (strip->rows, i);

          n_detections += row->n_seen[set];
          n_nights += tpt_strip_get_nights (strip, row, set);
        }
      words = say_counts (strip, set, n_detections, round (n_nights));
      g_string_append_printf (counts, "%s%s", set > 0 ? "; " : "", words);
    }
  /* Translators: the period, "63 detections in 4,218 trap nights", "14 stations". */
  return g_strdup_printf (_("Stations through time, %1$s: %2$s at %3$s."), period, counts->str, stations);
}

char *
tpt_strip_describe (const TptStrip *strip)
{
  GString *text = g_string_new (NULL);
  g_autofree char *sum = describe_sum (strip);

  g_string_append (text, sum);
  for (guint i = 0; i < strip->rows->len; i++)
    {
      const TptStripRow *row = g_ptr_array_index (strip->rows, i);
      g_autofree char *words = tpt_strip_say_row (strip, row);

      g_string_append_printf (text, " %s.", words);
      for (guint j = 0; j < row->gaps->len; j++)
        {
          g_autofree char *gap = tpt_strip_say_gap (strip, row, &g_array_index (row->gaps, TptStripGap, j));

          g_string_append_printf (text, " %s.", gap);
        }
    }

  return g_string_free (text, FALSE);
}
