#include "config.h"

#include "tpt-sightings-private.h"

#include <math.h>

#include "sci-sun-hour.h"
#include "sci-sun.h"
#include "tpt-effort-private.h"
#include "tpt-records.h"

/* Nothing on record is later: effort is cut to the present when it is counted. */
#define END_OF_TIME (tpt_days_from_civil (9999, 12, 31) * TPT_DAY)

#define NO_HOUR (-1.0)
#define NO_ALTITUDE (-1000.0)

TptSightings *
tpt_sightings_ref (TptSightings *self)
{
  g_atomic_ref_count_inc (&self->references);
  return self;
}

void
tpt_sightings_unref (TptSightings *self)
{
  if (!g_atomic_ref_count_dec (&self->references))
    return;
  g_clear_pointer (&self->rows, g_array_unref);
  g_clear_pointer (&self->species, g_ptr_array_unref);
  g_clear_pointer (&self->places, g_ptr_array_unref);
  g_clear_pointer (&self->efforts, g_ptr_array_unref);
  g_clear_pointer (&self->effort_place, g_array_unref);
  g_clear_pointer (&self->zone, tpt_zone_unref);
  g_free (self->species_of);
  g_free (self->place_of);
  g_free (self->by_time);
  g_free (self->sun_hour);
  g_free (self->sun_altitude);
  g_free (self);
}

static GHashTable *
index_records (GPtrArray *records)
{
  GHashTable *index = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);

  for (guint i = 0; i < records->len; i++)
    {
      gint64 *id = g_new (gint64, 1);

      *id = tpt_record_get_id (records->pdata[i]);
      g_hash_table_insert (index, id, GUINT_TO_POINTER (i));
    }
  return index;
}

/* The rows of one species at one station. */
typedef struct {
  guint species;
  guint place;
  guint first;
  guint n;
} Run;

static int
compare_runs_cb (gconstpointer a, gconstpointer b)
{
  const Run *x = a, *y = b;

  if (x->species != y->species)
    return x->species < y->species ? -1 : 1;
  return x->place < y->place ? -1 : x->place > y->place;
}

static GArray *
find_runs (TptSightings *self)
{
  g_autoptr (GHashTable) species = index_records (self->species), places = index_records (self->places);
  const TptSighting *rows = (const TptSighting *) (gpointer) self->rows->data;
  GArray *runs = g_array_new (FALSE, FALSE, sizeof (Run));

  for (guint first = 0, end; first < self->rows->len; first = end)
    {
      Run run = { GPOINTER_TO_UINT (g_hash_table_lookup (species, &rows[first].species_id)),
                  GPOINTER_TO_UINT (g_hash_table_lookup (places, &rows[first].station_id)), first, 0 };

      for (end = first + 1; end < self->rows->len && rows[end].species_id == rows[first].species_id &&
                            rows[end].station_id == rows[first].station_id;)
        end++;
      run.n = end - first;
      g_array_append_val (runs, run);
    }
  return runs;
}

/* Rows come by the keys of the file; findings go by names, which do not depend on
 * what was entered first. */
static void
place_rows (TptSightings *self)
{
  g_autoptr (GArray) runs = find_runs (self);
  g_autoptr (GArray) rows = g_array_sized_new (FALSE, FALSE, sizeof (TptSighting), self->rows->len);

  self->species_of = g_new (guint, self->rows->len);
  self->place_of = g_new (guint, self->rows->len);
  g_array_sort (runs, compare_runs_cb);
  for (guint i = 0; i < runs->len; i++)
    {
      const Run *run = &g_array_index (runs, Run, i);

      for (guint k = 0; k < run->n; k++)
        {
          self->species_of[rows->len + k] = run->species;
          self->place_of[rows->len + k] = run->place;
        }
      g_array_append_vals (rows, &g_array_index (self->rows, TptSighting, run->first), run->n);
    }
  g_array_unref (self->rows);
  self->rows = g_steal_pointer (&rows);
}

static int
compare_times_cb (gconstpointer a, gconstpointer b, gpointer data)
{
  const TptSighting *rows = data;
  guint x = *(const guint *) a, y = *(const guint *) b;

  if (rows[x].start != rows[y].start)
    return rows[x].start < rows[y].start ? -1 : 1;
  return x < y ? -1 : x > y;
}

static void
order_by_time (TptSightings *self)
{
  self->by_time = g_new (guint, self->rows->len);
  for (guint i = 0; i < self->rows->len; i++)
    self->by_time[i] = i;
  g_qsort_with_data (self->by_time, (int) self->rows->len, sizeof (guint), compare_times_cb, self->rows->data);
}

static void
place_efforts (TptSightings *self)
{
  g_autoptr (GHashTable) places = index_records (self->places);

  self->effort_place = g_array_sized_new (FALSE, FALSE, sizeof (guint), self->efforts->len);
  for (guint i = 0; i < self->efforts->len; i++)
    {
      const TptEffort *effort = self->efforts->pdata[i];
      guint place = GPOINTER_TO_UINT (g_hash_table_lookup (places, &effort->station_id));

      g_array_append_val (self->effort_place, place);
    }
}

TptSightings *
tpt_sightings_read (TptStore *store, GCancellable *cancellable, GError **error)
{
  static const TptRange always = { TPT_NO_INSTANT, TPT_NO_INSTANT };
  g_autoptr (TptSightings) self = g_new0 (TptSightings, 1);
  g_autoptr (TptFilter) everything = tpt_filter_new ();

  g_atomic_ref_count_init (&self->references);
  self->zone = tpt_zone_ref (tpt_store_get_zone (store));
  self->species = tpt_store_list (store, TPT_TABLE_SPECIES, NULL, NULL, error);
  self->places = self->species != NULL ? tpt_store_list (store, TPT_TABLE_STATIONS, NULL, NULL, error) : NULL;
  self->efforts = self->places != NULL ? tpt_effort_read (store, everything, END_OF_TIME, error) : NULL;
  if (self->efforts == NULL || g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  self->rows = tpt_store_read_sightings (store, always, error);
  if (self->rows == NULL)
    return NULL;
  place_rows (self);
  order_by_time (self);
  place_efforts (self);
  return g_steal_pointer (&self);
}

static double *
new_reals (guint n, double value)
{
  double *reals = g_new (double, n);

  for (guint i = 0; i < n; i++)
    reals[i] = value;
  return reals;
}

static double
get_degrees (TptSightings *self, guint row, const char *column)
{
  TptRecord *place = self->places->pdata[self->place_of[row]];

  return tpt_record_is_set (place, column) ? tpt_record_get_real (place, column) : NAN;
}

double
tpt_sightings_get_hour (TptSightings *self, guint row, gboolean by_sun)
{
  TptInstant at = g_array_index (self->rows, TptSighting, row).start;
  gint64 local;

  if (!by_sun)
    {
      local = at + tpt_zone_offset_at (self->zone, at) * TPT_SECOND;
      return (double) (((local % TPT_DAY) + TPT_DAY) % TPT_DAY) / (double) TPT_HOUR;
    }
  if (self->sun_hour == NULL)
    self->sun_hour = new_reals (self->rows->len, NO_HOUR);
  if (self->sun_hour[row] == NO_HOUR)
    self->sun_hour[row] = sci_sun_hour (at, get_degrees (self, row, "latitude"), get_degrees (self, row, "longitude"));
  return self->sun_hour[row];
}

double
tpt_sightings_get_altitude (TptSightings *self, guint row)
{
  if (self->sun_altitude == NULL)
    self->sun_altitude = new_reals (self->rows->len, NO_ALTITUDE);
  if (self->sun_altitude[row] == NO_ALTITUDE)
    {
      double latitude = get_degrees (self, row, "latitude"), longitude = get_degrees (self, row, "longitude");
      TptInstant at = g_array_index (self->rows, TptSighting, row).start;

      self->sun_altitude[row] =
        isnan (latitude) || isnan (longitude) ? NAN : sci_sun_altitude (at, latitude, longitude);
    }
  return self->sun_altitude[row];
}
