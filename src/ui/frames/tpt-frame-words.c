#include "config.h"

#include "tpt-frame-words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-certainty.h"
#include "tpt-number.h"
#include "tpt-words.h"

char *
tpt_frame_words_time (const TptFrameRow *row, TptZone *zone)
{
  return row->at != TPT_NO_INSTANT ? tpt_words_second (row->at, zone) : g_strdup (_("time unknown"));
}

char *
tpt_frame_words_short_time (const TptFrameRow *row, TptZone *zone)
{
  int year, month, day, minutes;
  gint64 local;

  if (row->at == TPT_NO_INSTANT)
    return g_strdup (_("time unknown"));
  tpt_civil_from_days (tpt_zone_local_day (zone, row->at), &year, &month, &day);
  local = row->at + tpt_zone_offset_at (zone, row->at) * TPT_SECOND;
  minutes = (int) (((local % TPT_DAY) + TPT_DAY) % TPT_DAY / TPT_MINUTE);
  /* Translators: day, short month, hour and minute. */
  return g_strdup_printf (_("%1$d %2$s %3$02d:%4$02d"), day, tpt_words_month_short (month), minutes / 60, minutes % 60);
}

char *
tpt_frame_words_score (double score)
{
  static const struct {
    double from;
    const char *words;
  } steps[] = {
    { TPT_PROBABLY_EMPTY, N_("probably empty") },
    { 0.5, N_("perhaps empty") },
    { 0.2, N_("perhaps not empty") },
    { -INFINITY, N_("probably not empty") },
  };
  g_autofree char *number = NULL;
  guint i = 0;

  if (isnan (score))
    return NULL;
  number = g_strdup_printf ("%.2f", score);
  while (score < steps[i].from)
    i++;
  return g_strdup_printf ("%s: %s", _(steps[i].words), number);
}

static void
add_word (GString *words, const char *word)
{
  g_string_append_printf (words, "%s%s", words->len > 0 ? ", " : "", word);
}

char *
tpt_frame_words_light (const TptFrameRow *row)
{
  GString *words = g_string_new (NULL);

  if (row->night >= 0)
    add_word (words, row->night ? _("night") : _("day"));
  if (!isnan (row->temperature_c))
    {
      g_autofree char *number = tpt_number_format_fixed (row->temperature_c, 0);
      g_autofree char *degrees = g_strdup_printf (_("%s °C"), number);

      add_word (words, degrees);
    }
  if (row->flash == 1)
    add_word (words, _("flash fired"));
  return g_string_free (words, words->len == 0);
}

/* (nullable): where a frame's time came from, by the words that taking in a card
 * and importing a table put on record. */
static const char *
find_source (const char *source)
{
  static const struct {
    const char *code;
    const char *words;
  } sources[] = {
    { "exif-original", N_("as the picture says it was taken") },
    { "exif-digitized", N_("as the picture says it was digitised") },
    { "xmp", N_("from the picture’s XMP note") },
    { "maker-note", N_("from the camera maker’s note in the picture") },
    { "file", N_("from the date of the file") },
    { "table", N_("from the table it came in with") },
  };

  for (guint i = 0; source != NULL && i < G_N_ELEMENTS (sources); i++)
    if (g_str_equal (sources[i].code, source))
      return _(sources[i].words);
  return NULL;
}

char *
tpt_frame_words_clock (const TptFrameRow *row)
{
  const char *source = find_source (row->time_source);
  g_autofree char *shown = NULL;
  TptReading reading;

  if (row->camera_time == NULL)
    return g_strdup (_("The camera wrote no time."));
  shown = tpt_reading_parse (row->camera_time, &reading, NULL) ? tpt_words_reading (reading, TRUE) : g_strdup (row->camera_time);
  if (source == NULL)
    return g_strdup_printf (_("The camera’s clock showed %s."), shown);
  return g_strdup_printf (_("The camera’s clock showed %1$s, %2$s."), shown, source);
}

char *
tpt_frame_words_certainty (double certainty)
{
  const char *word = tpt_certainty_get_word (certainty);

  if (isnan (certainty))
    return NULL;
  return word != NULL ? g_strdup (word) : g_strdup_printf ("%.2f", certainty);
}

char *
tpt_frame_words_seen (const TptSeen *seen)
{
  g_autofree char *what = tpt_seen_describe (seen);
  g_autofree char *certainty = tpt_frame_words_certainty (seen->certainty);

  if (seen->by != NULL && certainty != NULL)
    return g_strdup_printf ("%s (%s, %s)", what, seen->by, certainty);
  if (seen->by != NULL || certainty != NULL)
    return g_strdup_printf ("%s (%s)", what, seen->by != NULL ? seen->by : certainty);
  return g_steal_pointer (&what);
}
