#include "config.h"

#include "tpt-job-findings.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "sci-detection.h"
#include "sci-effort.h"
#include "sci-poisson.h"
#include "tpt-effort-private.h"
#include "tpt-error.h"
#include "tpt-findings-items-private.h"
#include "tpt-findings-private.h"
#include "tpt-query.h"
#include "tpt-records.h"
#include "tpt-strip.h"
#include "tpt-words.h"

#define LEVEL 0.95

/* An independent record, for the strip. */
typedef struct {
  TptInstant at;
  TptSpeciesItem *species; /* (unowned) */
  TptPlaceItem *place;     /* (unowned) */
  int animals;
} Detection;

struct _TptJobFindings {
  TptJob parent_instance;

  /* Input arguments */
  TptFilter *filter; /* (owned) */

  /* In-progress data */
  GHashTable *places_by_id;  /* (owned) (element-type int64 TptPlaceItem) */
  GHashTable *species_by_id; /* (owned) (element-type int64 TptSpeciesItem) */
  GHashTable *chosen;        /* (owned) (nullable) (element-type TptSpeciesItem): NULL: all */

  /* Results */
  GListStore *species;   /* (owned) */
  GListStore *places;    /* (owned) */
  GPtrArray *efforts;    /* (owned) (element-type TptEffort) */
  GArray *detections;    /* (owned) (element-type Detection): of the chosen species */
  GPtrArray *chosen_titles; /* (owned) (nullable): names of the chosen species */
  double independence_min;
  gboolean gap_from_first;
  TptRate rate;
  TptRange period;
  char *sentence;    /* (owned) */
  TptFigure *strip;  /* (owned) */
};

G_DEFINE_FINAL_TYPE (TptJobFindings, tpt_job_findings, TPT_TYPE_JOB)

static void
put_interval (TptRate *rate)
{
  SciInterval interval = sci_poisson_rate (rate->detections, rate->nights, 100, LEVEL);

  rate->per_100 = interval.estimate;
  rate->low = interval.lower;
  rate->high = interval.upper;
}

static GHashTable *
new_index (void)
{
  return g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_object_unref);
}

static void
index_item (GHashTable *index, gint64 id, gpointer item)
{
  gint64 *key = g_new (gint64, 1);

  *key = id;
  g_hash_table_insert (index, key, g_object_ref (item));
}

static gboolean
read_places (TptJobFindings *self, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) records = tpt_store_list (store, TPT_TABLE_STATIONS, NULL, NULL, error);

  if (records == NULL || !tpt_store_check_stations (store, (const char *const *) self->filter->stations, error))
    return FALSE;
  self->places_by_id = new_index ();
  for (guint i = 0; i < records->len; i++)
    {
      g_autoptr (TptPlaceItem) item = NULL;

      if (self->filter->stations != NULL &&
          !g_strv_contains ((const char *const *) self->filter->stations, tpt_record_get_code (records->pdata[i])))
        continue;
      item = tpt_place_item_new (records->pdata[i]);
      g_list_store_append (self->places, item);
      index_item (self->places_by_id, tpt_record_get_id (records->pdata[i]), item);
    }
  return TRUE;
}

static gboolean
read_species (TptJobFindings *self, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) records = tpt_store_list (store, TPT_TABLE_SPECIES, NULL, NULL, error);

  if (records == NULL)
    return FALSE;
  self->species_by_id = new_index ();
  for (guint i = 0; i < records->len; i++)
    {
      g_autoptr (TptSpeciesItem) item = tpt_species_item_new (records->pdata[i]);

      g_list_store_append (self->species, item);
      index_item (self->species_by_id, tpt_record_get_id (records->pdata[i]), item);
    }
  return TRUE;
}

static TptSpeciesItem *
find_species (TptJobFindings *self, const char *name)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->species)); i++)
    {
      g_autoptr (TptSpeciesItem) item = g_list_model_get_item (G_LIST_MODEL (self->species), i);

      if (tpt_species_item_is_called (item, name))
        return item; /* the list keeps it */
    }
  return NULL;
}

static gboolean
choose_species (TptJobFindings *self, GError **error)
{
  if (self->filter->species == NULL)
    return TRUE;
  self->chosen = g_hash_table_new (NULL, NULL);
  self->chosen_titles = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; self->filter->species[i] != NULL; i++)
    {
      TptSpeciesItem *item = find_species (self, self->filter->species[i]);

      if (item == NULL)
        {
          g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("There is no species “%s” in this project"),
                       self->filter->species[i]);
          return FALSE;
        }
      if (g_hash_table_add (self->chosen, item))
        g_ptr_array_add (self->chosen_titles, g_strdup (tpt_species_item_get_title (item)));
    }
  return TRUE;
}

static void
read_convention (TptJobFindings *self, TptStore *store)
{
  g_autofree char *from = tpt_store_get_setting (store, "independence_from");

  self->independence_min = !isnan (self->filter->independence_min)
                             ? self->filter->independence_min
                             : tpt_store_get_setting_real (store, "independence_min", 30);
  self->gap_from_first =
    self->filter->gap_from_first >= 0 ? self->filter->gap_from_first : g_strcmp0 (from, "first") == 0;
}

static void
add_nights (TptJobFindings *self)
{
  for (guint i = 0; i < self->efforts->len; i++)
    {
      const TptEffort *effort = self->efforts->pdata[i];
      TptPlaceItem *place = g_hash_table_lookup (self->places_by_id, &effort->station_id);

      if (place == NULL)
        continue;
      tpt_place_item_edit_rate (place)->nights += effort->nights;
      self->rate.nights += effort->nights;
      for (guint w = 0; w < effort->worked->len; w++)
        {
          const TptRange *worked = &g_array_index (effort->worked, TptRange, w);

          self->period.from =
            self->period.from == TPT_NO_INSTANT ? worked->from : MIN (self->period.from, worked->from);
          self->period.to = MAX (self->period.to, worked->to);
        }
    }
}

static gboolean
read_effort (TptJobFindings *self, TptStore *store, GError **error)
{
  self->efforts = tpt_effort_read (store, self->filter, tpt_store_get_now (store), error);
  if (self->efforts == NULL)
    return FALSE;
  add_nights (self);
  return TRUE;
}

/* The records of one species at one station, already by time. */
typedef struct {
  TptSpeciesItem *species;
  TptPlaceItem *place;
  const TptSighting *sightings;
  gsize n;
} Group;

static void
count_detection (TptJobFindings *self, const Group *group, TptInstant at, int animals, gboolean chosen, gboolean *seen)
{
  TptRate *rate = tpt_species_item_edit_rate (group->species);
  TptRate *place_rate = tpt_place_item_edit_rate (group->place);

  rate->detections++;
  rate->individuals += animals;
  rate->stations += !*seen;
  *seen = TRUE;
  if (!chosen)
    return;

  place_rate->detections++;
  place_rate->individuals += animals;
  self->rate.detections++;
  self->rate.individuals += animals;
  {
    Detection detection = { at, group->species, group->place, animals };
    g_array_append_val (self->detections, detection);
  }
}

/* The number of animals in a detection is the largest counted at once. */
static void
count_group (TptJobFindings *self, const Group *group, TptZone *zone, gint64 *starts, gint64 *ends, gsize *numbers)
{
  gboolean chosen = self->chosen == NULL || g_hash_table_contains (self->chosen, group->species);
  gboolean seen = FALSE;

  for (gsize i = 0; i < group->n; i++)
    {
      starts[i] = group->sightings[i].start;
      ends[i] = group->sightings[i].end;
    }
  sci_detections (starts, ends, group->n, (gint64) (self->independence_min * TPT_MINUTE),
                  self->gap_from_first ? SCI_GAP_FROM_FIRST : SCI_GAP_FROM_LAST, FALSE, numbers);

  for (gsize i = 0; i < group->n;)
    {
      gsize first = i;
      int animals = 0;

      for (; i < group->n && numbers[i] == numbers[first]; i++)
        animals = MAX (animals, group->sightings[i].count);
      if (tpt_filter_has_hour (self->filter, zone, group->sightings[first].start))
        count_detection (self, group, group->sightings[first].start, animals, chosen, &seen);
    }
}

static gsize
find_group_end (const TptSighting *rows, gsize first, gsize n)
{
  gsize i = first + 1;

  while (i < n && rows[i].species_id == rows[first].species_id && rows[i].station_id == rows[first].station_id)
    i++;
  return i;
}

static gboolean
count_sightings (TptJobFindings *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) sightings = tpt_store_read_sightings (store, self->filter->range, error);
  g_autofree gint64 *starts = NULL, *ends = NULL;
  g_autofree gsize *numbers = NULL;
  const TptSighting *rows;

  if (sightings == NULL)
    return FALSE;
  rows = (const TptSighting *) (gpointer) sightings->data;
  starts = g_new (gint64, sightings->len);
  ends = g_new (gint64, sightings->len);
  numbers = g_new (gsize, sightings->len);
  for (gsize first = 0, end; first < sightings->len; first = end)
    {
      Group group = {
        g_hash_table_lookup (self->species_by_id, &rows[first].species_id),
        g_hash_table_lookup (self->places_by_id, &rows[first].station_id),
        rows + first,
      };

      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      end = find_group_end (rows, first, sightings->len);
      group.n = end - first;
      if (group.place != NULL && group.species != NULL)
        count_group (self, &group, tpt_store_get_zone (store), starts, ends, numbers);
    }
  return TRUE;
}

static int
compare_species_cb (gconstpointer a, gconstpointer b, gpointer data)
{
  TptSpeciesItem *x = (gpointer) a, *y = (gpointer) b;
  gint64 nx = tpt_species_item_get_rate (x)->detections, ny = tpt_species_item_get_rate (y)->detections;

  if (nx != ny)
    return nx > ny ? -1 : 1;
  return g_utf8_collate (tpt_species_item_get_title (x), tpt_species_item_get_title (y));
}

static void
finish_rates (TptJobFindings *self)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->species)); i++)
    {
      g_autoptr (TptSpeciesItem) item = g_list_model_get_item (G_LIST_MODEL (self->species), i);

      tpt_species_item_edit_rate (item)->nights = self->rate.nights;
      put_interval (tpt_species_item_edit_rate (item));
    }
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->places)); i++)
    {
      g_autoptr (TptPlaceItem) item = g_list_model_get_item (G_LIST_MODEL (self->places), i);
      TptRate *rate = tpt_place_item_edit_rate (item);

      rate->stations = rate->detections > 0;
      self->rate.stations += rate->stations;
      put_interval (rate);
    }
  put_interval (&self->rate);
  g_list_store_sort (self->species, compare_species_cb, NULL);
}

char *
tpt_job_findings_name_species (TptJobFindings *self)
{
  if (self->chosen_titles == NULL)
    return g_strdup (_("All species"));
  if (self->chosen_titles->len > 3)
    return g_strdup_printf (_("%u species"), self->chosen_titles->len);
  {
    g_autoptr (GString) names = g_string_new (NULL);

    for (guint i = 0; i < self->chosen_titles->len; i++)
      g_string_append_printf (names, "%s%s", i == 0 ? "" : ", ", (const char *) self->chosen_titles->pdata[i]);
    return g_string_free (g_steal_pointer (&names), FALSE);
  }
}

static guint
count_worked (TptJobFindings *self)
{
  guint worked = 0;

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->places)); i++)
    {
      g_autoptr (TptPlaceItem) item = g_list_model_get_item (G_LIST_MODEL (self->places), i);
      worked += tpt_place_item_get_rate (item)->nights > 0;
    }
  return worked;
}

static char *
say_hours (const TptFilter *filter)
{
  if (filter->hour_from < 0)
    return g_strdup (_("any hour"));
  return g_strdup_printf (_("%02d:%02d to %02d:%02d"), filter->hour_from / 60, filter->hour_from % 60, filter->hour_to / 60,
                          filter->hour_to % 60);
}

static char *
say_sentence (TptJobFindings *self, TptZone *zone)
{
  g_autofree char *species = tpt_job_findings_name_species (self);
  g_autofree char *period = NULL, *hours = say_hours (self->filter), *count = NULL, *nights = NULL;
  g_autofree char *rate = NULL, *low = NULL, *high = NULL, *where = NULL, *seen = NULL;
  guint worked = count_worked (self);

  if (self->rate.nights <= 0)
    return g_strdup_printf (_("%s: no station worked in this period, so nothing can be said."), species);

  period = tpt_words_period (self->period, zone);
  count = tpt_words_number ((double) self->rate.detections);
  nights = tpt_words_number (round (self->rate.nights));
  rate = tpt_words_number (self->rate.per_100);
  low = tpt_words_number (self->rate.low);
  high = tpt_words_number (self->rate.high);
  where = g_strdup_printf (self->filter->stations == NULL
                             ? g_dngettext (GETTEXT_PACKAGE, "at the one station that worked", "at all %u stations that worked", worked)
                             : g_dngettext (GETTEXT_PACKAGE, "at one station", "at %u stations", worked),
                           worked);
  seen = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s detection", "%s detections", (gulong) self->rate.detections), count);
  return g_strdup_printf (_("%s, %s, %s, %s. %s in %s trap nights: %s per 100 (%s to %s)."), species, where, period, hours, seen,
                          nights, rate, low, high);
}

char *
tpt_job_findings_describe_method (TptJobFindings *self)
{
  g_autofree char *minutes = tpt_words_number (self->independence_min);

  return g_strdup_printf (
    self->gap_from_first
      ? _("A record counts anew when it starts at least %s minutes after the start of the last one that counted. "
          "Trap nights are 24 h of a camera in working order. Interval: exact Poisson, 95 %%.")
      : _("A record counts anew when it starts at least %s minutes after the last frame of the one before. "
          "Trap nights are 24 h of a camera in working order. Interval: exact Poisson, 95 %%."),
    minutes);
}

static void
set_caption (TptJobFindings *self, TptFigure *figure, TptZone *zone)
{
  TptFigureCaption caption = TPT_FIGURE_CAPTION_INIT;
  g_autofree char *species = tpt_job_findings_name_species (self);
  g_autofree char *title = g_strdup_printf (_("%s: stations through time"), species);
  g_autofree char *method = tpt_job_findings_describe_method (self);

  caption.title = title;
  caption.n = self->rate.detections;
  caption.n_of = _("detections");
  caption.trap_nights = self->rate.nights;
  caption.period = self->period;
  caption.zone = zone;
  caption.method = method;
  tpt_figure_set_caption (figure, &caption);
}

static void
add_rows (TptJobFindings *self, TptFigure *strip, GHashTable *rows, gboolean named)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->places));

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (TptPlaceItem) place = g_list_model_get_item (G_LIST_MODEL (self->places), i);
      const TptRate *rate = tpt_place_item_get_rate (place);
      g_autofree char *number = g_strdup_printf (_("Station %u"), i + 1);

      if (rate->nights > 0 || rate->detections > 0)
        g_hash_table_insert (rows, place,
                             GINT_TO_POINTER (1 + tpt_strip_add_row (strip, named ? tpt_place_item_get_title (place) : number,
                                                                     named ? tpt_record_get_code (tpt_place_item_get_record (place)) : NULL,
                                                                     rate->nights)));
    }
}

TptFigure *
tpt_job_findings_draw_strip (TptJobFindings *self, TptZone *zone, gboolean named)
{
  TptRange range = self->period.from != TPT_NO_INSTANT ? self->period : (TptRange){ 0, TPT_DAY };
  TptFigure *strip = tpt_strip_new (range, zone);
  g_autoptr (GHashTable) rows = g_hash_table_new (NULL, NULL);

  add_rows (self, strip, rows, named);
  for (guint i = 0; i < self->efforts->len; i++)
    {
      const TptEffort *effort = self->efforts->pdata[i];
      gpointer place = g_hash_table_lookup (self->places_by_id, &effort->station_id);
      int row = GPOINTER_TO_INT (g_hash_table_lookup (rows, place)) - 1;

      for (guint w = 0; row >= 0 && w < effort->worked->len; w++)
        tpt_strip_add_effort (strip, row, g_array_index (effort->worked, TptRange, w));
      for (guint g = 0; row >= 0 && g < effort->gaps->len; g++)
        {
          const TptGap *gap = &g_array_index (effort->gaps, TptGap, g);

          tpt_strip_add_gap (strip, row, gap->range, tpt_gap_why_label (gap->why));
        }
    }
  for (guint i = 0; i < self->detections->len; i++)
    {
      const Detection *detection = &g_array_index (self->detections, Detection, i);
      int row = GPOINTER_TO_INT (g_hash_table_lookup (rows, detection->place)) - 1;

      if (row >= 0)
        tpt_strip_add_detection (strip, row, detection->at, tpt_species_item_get_title (detection->species), detection->animals);
    }
  set_caption (self, strip, zone);
  return strip;
}

gboolean
tpt_job_findings_compute (TptJobFindings *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  gboolean good;

  read_convention (self, store);
  good = read_places (self, store, error) && read_species (self, store, error) && choose_species (self, error) &&
         read_effort (self, store, error) && count_sightings (self, store, cancellable, error);
  if (good)
    {
      finish_rates (self);
      self->sentence = say_sentence (self, tpt_store_get_zone (store));
    }
  g_clear_pointer (&self->chosen, g_hash_table_unref);
  return good;
}

static gboolean
tpt_job_findings_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobFindings *self = TPT_JOB_FINDINGS (job);

  if (!tpt_job_findings_compute (self, store, cancellable, error))
    return FALSE;
  self->strip = tpt_job_findings_draw_strip (self, tpt_store_get_zone (store), TRUE);
  return TRUE;
}

static void
tpt_job_findings_dispose (GObject *object)
{
  TptJobFindings *self = TPT_JOB_FINDINGS (object);

  g_assert (self->chosen == NULL);
  g_clear_pointer (&self->filter, tpt_filter_free);
  g_clear_pointer (&self->places_by_id, g_hash_table_unref);
  g_clear_pointer (&self->species_by_id, g_hash_table_unref);
  g_clear_object (&self->species);
  g_clear_object (&self->places);
  g_clear_pointer (&self->efforts, g_ptr_array_unref);
  g_clear_pointer (&self->detections, g_array_unref);
  g_clear_pointer (&self->chosen_titles, g_ptr_array_unref);
  g_clear_pointer (&self->sentence, g_free);
  g_clear_pointer (&self->strip, tpt_figure_unref);

  G_OBJECT_CLASS (tpt_job_findings_parent_class)->dispose (object);
}

static void
tpt_job_findings_class_init (TptJobFindingsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_findings_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_findings_run;
}

static void
tpt_job_findings_init (TptJobFindings *self)
{
  self->species = g_list_store_new (TPT_TYPE_SPECIES_ITEM);
  self->places = g_list_store_new (TPT_TYPE_PLACE_ITEM);
  self->detections = g_array_new (FALSE, FALSE, sizeof (Detection));
  self->period = (TptRange){ TPT_NO_INSTANT, TPT_NO_INSTANT };
}

TptJobFindings *
tpt_job_findings_new (const TptFilter *filter)
{
  TptJobFindings *self = g_object_new (TPT_TYPE_JOB_FINDINGS, NULL);

  self->filter = tpt_filter_copy (filter);
  return self;
}

GListModel *
tpt_job_findings_get_species (TptJobFindings *self)
{
  return G_LIST_MODEL (self->species);
}

GListModel *
tpt_job_findings_get_places (TptJobFindings *self)
{
  return G_LIST_MODEL (self->places);
}

const TptRate *
tpt_job_findings_get_rate (TptJobFindings *self)
{
  return &self->rate;
}

TptRange
tpt_job_findings_get_period (TptJobFindings *self)
{
  return self->period;
}

const char *
tpt_job_findings_get_sentence (TptJobFindings *self)
{
  return self->sentence;
}

TptFigure *
tpt_job_findings_get_strip (TptJobFindings *self)
{
  return self->strip;
}
