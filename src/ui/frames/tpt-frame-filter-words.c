#include "config.h"

#include "tpt-frame-filter-words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-certainty.h"
#include "tpt-filter.h"
#include "tpt-words.h"

/* What there is, and of which card. */
static void
add_subject (GString *text, const TptFrameQuery *query)
{
  static const char *const subjects[2][2] = {
    { N_("All triggers"), N_("Undecided triggers") },
    { N_("All frames"), N_("Frames of undecided triggers") },
  };

  g_string_append (text, _(subjects[query->every_frame][query->undecided]));
  if (query->batch != NULL)
    g_string_append_printf (text, _(" of card %s"), query->batch);
}

static const char *
word_type (const char *type)
{
  static const struct {
    const char *type;
    const char *words;
  } types[] = {
    { "animal", N_(" that show an animal") },   { "human", N_(" that show people") },
    { "vehicle", N_(" that show a vehicle") },  { "blank", N_(" that are blank") },
    { "unknown", N_(" that show something unknown") },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (types); i++)
    if (g_str_equal (types[i].type, type))
      return _(types[i].words);
  return "";
}

static void
add_certainty (GString *text, double below)
{
  const char *word = tpt_certainty_get_word (below);

  if (isnan (below))
    return;
  if (word != NULL)
    g_string_append_printf (text, _(", named less than %s"), word);
  else
    g_string_append_printf (text, _(", named with a certainty below %.2f"), below);
}

static gboolean
has_range (const TptFrameQuery *query)
{
  return query->range.from != query->range.to;
}

/* The same hour twice is the whole day. */
static gboolean
has_hours (const TptFrameQuery *query)
{
  return query->hour_from >= 0 && query->hour_from != query->hour_to;
}

static gboolean
is_midnight (TptInstant at, TptZone *zone)
{
  return at == TPT_NO_INSTANT || tpt_zone_day_start (zone, at) == at;
}

/* Whole days, or else to the minute. */
static void
add_range (GString *text, TptRange range, TptZone *zone)
{
  g_autoptr (TptZone) utc = tpt_zone_new ("UTC", NULL);
  TptZone *used = zone != NULL ? zone : utc;
  g_autofree char *period = tpt_words_period (range, used);
  g_autofree char *from = NULL, *to = NULL;

  if (range.from == TPT_NO_INSTANT || range.to == TPT_NO_INSTANT ||
      (is_midnight (range.from, used) && is_midnight (range.to, used)))
    {
      g_string_append_printf (text, _(", %s"), period);
      return;
    }
  from = tpt_words_instant (range.from, used);
  to = tpt_words_instant (range.to, used);
  g_string_append_printf (text, _(", %1$s to %2$s"), from, to);
}

static void
add_hours (GString *text, const TptFrameQuery *query)
{
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  g_autofree char *hours = NULL;

  filter->hour_from = query->hour_from;
  filter->hour_to = query->hour_to;
  hours = tpt_filter_describe_hours (filter);
  g_string_append_printf (text, _(", %s"), hours);
}

static const char *
word_order (TptFrameOrder order)
{
  static const char *const orders[] = {
    [TPT_FRAMES_BY_TIME] = N_(", by time"),
    [TPT_FRAMES_BLANK_LAST] = N_(", probably empty last"),
    [TPT_FRAMES_BLANK_FIRST] = N_(", probably empty first"),
  };

  return _(orders[order]);
}

char *
tpt_frame_filter_words (const TptFrameQuery *query, const char *stations, const char *species, TptZone *zone)
{
  GString *text = g_string_new (NULL);

  add_subject (text, query);
  if (stations != NULL)
    g_string_append_printf (text, _(" at %s"), stations);
  if (species != NULL)
    g_string_append_printf (text, _(" that show %s"), species);
  if (query->types != NULL && query->types[0] != NULL)
    g_string_append (text, word_type (query->types[0]));
  if (has_range (query))
    add_range (text, query->range, zone);
  if (has_hours (query))
    add_hours (text, query);
  if (query->disagreeing)
    g_string_append (text, _(", opinions differ"));
  if (query->marked)
    g_string_append (text, _(", good for guests"));
  add_certainty (text, query->certainty_below);
  g_string_append (text, word_order (query->order));
  /* Translators: the end of a sentence. */
  g_string_append (text, _("."));
  return g_string_free (text, FALSE);
}

gboolean
tpt_frame_filter_is_of_decisions (const TptFrameQuery *query)
{
  return query->undecided || query->disagreeing || query->marked || query->species != NULL || query->types != NULL ||
         !isnan (query->certainty_below);
}

gboolean
tpt_frame_filter_is_narrow (const TptFrameQuery *query)
{
  return query->batch != NULL || query->stations != NULL || has_range (query) || has_hours (query) ||
         tpt_frame_filter_is_of_decisions (query);
}
