#include "config.h"

#include "tpt-map-mark.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-job-findings.h"
#include "tpt-map-frame.h"
#include "tpt-station-item.h"
#include "tpt-words.h"

#define STATION_DIAMETER 28

/* A handful of detections does not fill the map. */
#define LEAST_FULL_COUNT 8
#define PRESENCE_DISC 18
#define NOT_SEEN_DIAMETER 14
#define NOT_WORKED_DIAMETER 8

void
tpt_map_mark_free (TptMapMark *self)
{
  g_free (self->code);
  g_free (self->title);
  g_free (self->words);
  g_free (self->number);
  g_free (self);
}

/* (nullable): %NULL for a record without a position. */
static TptMapMark *
make_mark (TptRecord *record, const char *title)
{
  double latitude = tpt_record_get_real (record, "latitude");
  double longitude = tpt_record_get_real (record, "longitude");
  TptMapMark *mark;

  if (isnan (latitude) || isnan (longitude))
    return NULL;

  mark = g_new0 (TptMapMark, 1);
  mark->code = g_strdup (tpt_record_get_code (record));
  mark->title = g_strdup (title);
  tpt_map_project (latitude, longitude, &mark->x, &mark->y);
  return mark;
}

GPtrArray *
tpt_map_marks_of_stations (GListModel *stations, TptZone *zone, TptInstant on)
{
  GPtrArray *marks = g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_map_mark_free);
  guint n = g_list_model_get_n_items (stations);

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (TptStationItem) item = g_list_model_get_item (stations, i);
      TptMapMark *mark = make_mark (tpt_station_item_get_record (item), tpt_station_item_get_title (item));

      if (mark == NULL)
        continue;
      mark->kind = TPT_MARK_STATION;
      mark->symbol = tpt_station_item_get_symbol (item);
      mark->words = tpt_station_item_describe (item, zone, on);
      mark->diameter = STATION_DIAMETER;
      g_ptr_array_add (marks, mark);
    }
  return marks;
}

char *
tpt_map_mark_word_place (gint64 detections, double nights, double per_100, double low, double high)
{
  g_autofree char *count = tpt_words_number (detections);
  g_autofree char *worked = tpt_words_number (round (nights));
  g_autofree char *rate = tpt_words_number (per_100);
  g_autofree char *from = tpt_words_number (low);
  g_autofree char *to = tpt_words_number (high);

  if (!(nights > 0) && detections == 0)
    return g_strdup (_("not at work"));
  if (detections == 0)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "nothing seen in %s trap night",
                                         "nothing seen in %s trap nights", (gulong) llround (nights)),
                            worked);
  if (!(nights > 0))
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s detection", "%s detections", (gulong) detections), count);
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s detection in %s trap nights, %s per 100 (%s to %s)",
                                       "%s detections in %s trap nights, %s per 100 (%s to %s)", (gulong) detections),
                          count, worked, rate, from, to);
}

double
tpt_map_mark_diameter (double amount, double most)
{
  if (!(amount > 0) || !(most > 0))
    return TPT_MAP_SMALLEST_DISC;
  return MAX (TPT_MAP_SMALLEST_DISC, TPT_MAP_LARGEST_DISC * sqrt (amount / most));
}

static double
get_amount (const TptRate *rate, TptMapMeasure measure)
{
  switch (measure)
    {
    case TPT_MAP_COUNT:
      return rate->detections;
    case TPT_MAP_RATE:
      return isnan (rate->per_100) ? 0 : rate->per_100;
    case TPT_MAP_PRESENCE:
    default:
      return rate->detections > 0;
    }
}

static double
find_most (GListModel *places, TptMapMeasure measure)
{
  guint n = g_list_model_get_n_items (places);
  double most = measure == TPT_MAP_COUNT ? LEAST_FULL_COUNT : 0;

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (TptPlaceItem) item = g_list_model_get_item (places, i);

      most = MAX (most, get_amount (tpt_place_item_get_rate (item), measure));
    }
  return most;
}

static void
measure_mark (TptMapMark *mark, const TptRate *rate, TptMapMeasure measure, double most)
{
  mark->words = tpt_map_mark_word_place (rate->detections, rate->nights, rate->per_100, rate->low, rate->high);
  if (rate->detections == 0)
    {
      mark->kind = rate->nights > 0 ? TPT_MARK_NOT_SEEN : TPT_MARK_NOT_WORKED;
      mark->diameter = rate->nights > 0 ? NOT_SEEN_DIAMETER : NOT_WORKED_DIAMETER;
      return;
    }

  mark->kind = TPT_MARK_SEEN;
  mark->diameter = measure == TPT_MAP_PRESENCE ? PRESENCE_DISC : tpt_map_mark_diameter (get_amount (rate, measure), most);
  if (measure == TPT_MAP_COUNT)
    mark->number = tpt_words_number (rate->detections);
  else if (measure == TPT_MAP_RATE && !isnan (rate->per_100))
    mark->number = tpt_words_number (rate->per_100);
}

GPtrArray *
tpt_map_marks_of_places (GListModel *places, TptMapMeasure measure)
{
  GPtrArray *marks = g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_map_mark_free);
  double most = find_most (places, measure);
  guint n = g_list_model_get_n_items (places);

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (TptPlaceItem) item = g_list_model_get_item (places, i);
      TptMapMark *mark = make_mark (tpt_place_item_get_record (item), tpt_place_item_get_title (item));

      if (mark == NULL)
        continue;
      measure_mark (mark, tpt_place_item_get_rate (item), measure, most);
      g_ptr_array_add (marks, mark);
    }
  return marks;
}

char *
tpt_map_mark_describe (const TptMapMark *self)
{
  if (self->words == NULL || *self->words == '\0')
    return g_strdup (self->title);
  /* Translators: the name of a station and what is to be said of it. */
  return g_strdup_printf (_("%s: %s"), self->title, self->words);
}
