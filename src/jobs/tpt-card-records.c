#include "tpt-card-records-private.h"

#include <math.h>

#include "tpt-records.h"

/* Arriving, working and leaving at a station. */
#define AT_EDGE (12 * TPT_HOUR)

/* Cards are taken in within this time of being fetched. */
#define FRESH (14 * TPT_DAY)

struct _TptCardRecords {
  GPtrArray *deployments; /* (owned) (element-type TptRecord) */
  GPtrArray *fittings;    /* (owned) (element-type TptRecord) */
  GPtrArray *visits;      /* (owned) (element-type TptRecord): by time */
  GPtrArray *stations;    /* (owned) (element-type TptRecord) */
  GPtrArray *units;       /* (owned) (element-type TptRecord) */
  GHashTable *by_station; /* (owned): code to station, unowned both */
  GHashTable *by_unit;    /* (owned): code to unit, unowned both */
  GHashTable *by_serial;  /* (owned): serial as compared to unit */
  TptZone *zone;          /* (owned) */
  TptInstant now;
};

void
tpt_card_records_free (TptCardRecords *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->by_station, g_hash_table_unref);
  g_clear_pointer (&self->by_unit, g_hash_table_unref);
  g_clear_pointer (&self->by_serial, g_hash_table_unref);
  g_clear_pointer (&self->deployments, g_ptr_array_unref);
  g_clear_pointer (&self->fittings, g_ptr_array_unref);
  g_clear_pointer (&self->visits, g_ptr_array_unref);
  g_clear_pointer (&self->stations, g_ptr_array_unref);
  g_clear_pointer (&self->units, g_ptr_array_unref);
  g_clear_pointer (&self->zone, tpt_zone_unref);
  g_free (self);
}

/* A serial number is copied by hand and printed in more than one way. */
static char *
make_serial_key (const char *serial)
{
  g_autoptr (GString) key = g_string_new (NULL);

  for (const char *p = serial; *p != '\0'; p++)
    if (!g_ascii_isspace (*p) && *p != '-' && !(*p == '0' && key->len == 0))
      g_string_append_c (key, g_ascii_toupper (*p));
  return g_string_free (g_steal_pointer (&key), FALSE);
}

static GHashTable *
index_codes (GPtrArray *records)
{
  GHashTable *index = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < records->len; i++)
    g_hash_table_insert (index, (gpointer) tpt_record_get_code (records->pdata[i]), records->pdata[i]);
  return index;
}

static GHashTable *
index_serials (GPtrArray *units)
{
  GHashTable *index = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint i = 0; i < units->len; i++)
    {
      const char *serial = tpt_record_get_text (units->pdata[i], "serial");

      if (serial != NULL && g_strcmp0 (tpt_record_get_text (units->pdata[i], "kind"), "camera") == 0)
        g_hash_table_insert (index, make_serial_key (serial), units->pdata[i]);
    }
  return index;
}

TptCardRecords *
tpt_card_records_new (TptStore *store, GError **error)
{
  g_autoptr (TptCardRecords) self = g_new0 (TptCardRecords, 1);

  if ((self->deployments = tpt_store_list (store, TPT_TABLE_DEPLOYMENTS, NULL, NULL, error)) == NULL ||
      (self->fittings = tpt_store_list (store, TPT_TABLE_FITTINGS, NULL, NULL, error)) == NULL ||
      (self->visits = tpt_store_list (store, TPT_TABLE_VISITS, NULL, NULL, error)) == NULL ||
      (self->stations = tpt_store_list (store, TPT_TABLE_STATIONS, NULL, NULL, error)) == NULL ||
      (self->units = tpt_store_list (store, TPT_TABLE_UNITS, NULL, NULL, error)) == NULL)
    return NULL;
  self->by_station = index_codes (self->stations);
  self->by_unit = index_codes (self->units);
  self->by_serial = index_serials (self->units);
  self->zone = tpt_zone_ref (tpt_store_get_zone (store));
  self->now = tpt_store_get_now (store);
  return g_steal_pointer (&self);
}

GPtrArray *
tpt_card_records_get_deployments (TptCardRecords *self)
{
  return self->deployments;
}

TptRecord *
tpt_card_records_find_serial (TptCardRecords *self, const char *serial)
{
  g_autofree char *key = make_serial_key (serial);

  return g_hash_table_lookup (self->by_serial, key);
}

void
tpt_card_facts_free (TptCardFacts *self)
{
  if (self == NULL)
    return;
  g_clear_object (&self->deployment);
  g_clear_object (&self->station);
  g_clear_pointer (&self->cameras, g_ptr_array_unref);
  g_clear_pointer (&self->pairs, g_array_unref);
  g_clear_pointer (&self->reads, g_ptr_array_unref);
  g_clear_pointer (&self->counts, g_array_unref);
  g_clear_pointer (&self->zone, tpt_zone_unref);
  g_free (self);
}

/* The camera units fitted in a deployment; what one of them is @wanted for
 * narrows @span to the time it was there. */
static GPtrArray *
list_cameras (TptCardRecords *records, TptRecord *deployment, TptRecord *wanted, TptRange *span)
{
  GPtrArray *cameras = g_ptr_array_new_with_free_func (g_object_unref);

  for (guint i = 0; i < records->fittings->len; i++)
    {
      TptRecord *fitting = records->fittings->pdata[i];
      TptRecord *unit;

      if (g_strcmp0 (tpt_record_get_text (fitting, "deployment"), tpt_record_get_code (deployment)) != 0)
        continue;
      unit = g_hash_table_lookup (records->by_unit, tpt_record_get_text (fitting, "unit"));
      if (unit == NULL || g_strcmp0 (tpt_record_get_text (unit, "kind"), "camera") != 0)
        continue;
      if (!g_ptr_array_find (cameras, unit, NULL))
        g_ptr_array_add (cameras, g_object_ref (unit));
      if (span != NULL && unit == wanted)
        *span = (TptRange){ tpt_record_get_instant (fitting, "from"), tpt_record_get_instant (fitting, "to") };
    }
  return cameras;
}

static gboolean
shares_camera (GPtrArray *a, GPtrArray *b)
{
  for (guint i = 0; i < a->len; i++)
    if (g_ptr_array_find (b, a->pdata[i], NULL))
      return TRUE;
  return FALSE;
}

/* Whether a rig with another camera came down where this one went up. */
static gboolean
takes_over (TptCardRecords *records, const TptCardFacts *facts)
{
  TptInstant start = tpt_record_get_instant (facts->deployment, "start");

  for (guint i = 0; i < records->deployments->len; i++)
    {
      TptRecord *other = records->deployments->pdata[i];
      TptInstant end = tpt_record_get_instant (other, "end");
      g_autoptr (GPtrArray) cameras = NULL;

      if (other == facts->deployment || end == TPT_NO_INSTANT || ABS (end - start) > AT_EDGE ||
          g_strcmp0 (tpt_record_get_text (other, "station"), tpt_record_get_text (facts->deployment, "station")) != 0)
        continue;
      cameras = list_cameras (records, other, NULL, NULL);
      if (!shares_camera (cameras, facts->cameras))
        return TRUE;
    }
  return FALSE;
}

static void
note_clock (TptCardFacts *facts, TptRecord *visit)
{
  const char *read = tpt_record_get_text (visit, "camera_clock");
  TptClockPair pair = { .true_at = tpt_record_get_instant (visit, "true_clock") };

  if (read == NULL || pair.true_at == TPT_NO_INSTANT || !tpt_reading_parse (read, &pair.read, NULL))
    return;
  g_array_append_val (facts->pairs, pair);
  g_ptr_array_add (facts->reads, g_strdup (read));
}

static void
note_count (TptCardFacts *facts, TptRecord *visit)
{
  TptCardCount count = { tpt_record_get_instant (visit, "at"), tpt_record_get_integer (visit, "frames_on_card", -1) };

  if (count.frames >= 0)
    g_array_append_val (facts->counts, count);
}

static void
note_visit (TptCardFacts *facts, TptRecord *visit, gboolean others_clock)
{
  TptInstant at = tpt_record_get_instant (visit, "at"), start = tpt_record_get_instant (facts->deployment, "start");
  gboolean at_start = at <= start + AT_EDGE;

  if (!at_start || !others_clock)
    note_clock (facts, visit);
  if (at_start)
    return;
  note_count (facts, visit);
  /* While the rig still stands, only a visit of late is taken to have brought the card. */
  facts->ended_at = g_strcmp0 (tpt_record_get_text (visit, "found"), "working") == 0 &&
                    (tpt_record_is_set (facts->deployment, "end") || at >= facts->now - FRESH) ? at : TPT_NO_INSTANT;
}

static void
note_visits (TptCardRecords *records, TptCardFacts *facts, TptRange span)
{
  gboolean others_clock = takes_over (records, facts);

  for (guint i = 0; i < records->visits->len; i++)
    {
      TptRecord *visit = records->visits->pdata[i];
      TptInstant at = tpt_record_get_instant (visit, "at");

      if (g_strcmp0 (tpt_record_get_text (visit, "station"), tpt_record_get_text (facts->deployment, "station")) == 0 &&
          at >= span.from - AT_EDGE && (span.to == TPT_NO_INSTANT || at <= span.to + AT_EDGE) && at <= records->now)
        note_visit (facts, visit, others_clock);
    }
}

/* The narrower of the two. */
static TptRange
narrow (TptRecord *deployment, TptRange fitting)
{
  TptRange span = { tpt_record_get_instant (deployment, "start"), tpt_record_get_instant (deployment, "end") };

  span.from = MAX (span.from, fitting.from);
  if (fitting.to != TPT_NO_INSTANT)
    span.to = span.to != TPT_NO_INSTANT ? MIN (span.to, fitting.to) : fitting.to;
  return span;
}

TptCardFacts *
tpt_card_facts_new (TptCardRecords *records, TptRecord *deployment, const char *serial)
{
  TptCardFacts *self = g_new0 (TptCardFacts, 1);
  TptRecord *wanted = serial != NULL ? tpt_card_records_find_serial (records, serial) : NULL;
  TptRange fitting = { TPT_NO_INSTANT, TPT_NO_INSTANT };

  self->deployment = g_object_ref (deployment);
  self->station = g_hash_table_lookup (records->by_station, tpt_record_get_text (deployment, "station"));
  if (self->station != NULL)
    g_object_ref (self->station);
  self->cameras = list_cameras (records, deployment, wanted, &fitting);
  self->pairs = g_array_new (FALSE, FALSE, sizeof (TptClockPair));
  self->reads = g_ptr_array_new_with_free_func (g_free);
  self->counts = g_array_new (FALSE, FALSE, sizeof (TptCardCount));
  self->ended_at = TPT_NO_INSTANT;
  self->zone = tpt_zone_ref (records->zone);
  self->now = records->now;
  note_visits (records, self, narrow (deployment, fitting));
  return self;
}

void
tpt_card_facts_fill_known (const TptCardFacts *self, TptClockKnown *known)
{
  TptRecord *deployment = self->deployment;

  *known = (TptClockKnown){
    .clock = { .zone = self->zone,
               .start = tpt_record_get_instant (deployment, "start"),
               .end = tpt_record_get_instant (deployment, "end"),
               .now = self->now },
    .pairs = (const TptClockPair *) (gpointer) self->pairs->data,
    .n_pairs = self->pairs->len,
    .ended_at = self->ended_at,
    .latitude = self->station != NULL ? tpt_record_get_real (self->station, "latitude") : NAN,
    .longitude = self->station != NULL ? tpt_record_get_real (self->station, "longitude") : NAN,
  };
  if (tpt_record_is_set (deployment, "camera_clock_offset_s"))
    known->clock.camera_clock_offset_s = tpt_record_get_real (deployment, "camera_clock_offset_s");
}
