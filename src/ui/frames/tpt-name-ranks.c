#include "tpt-name-ranks.h"

#include <string.h>

#define BUCKET 30 /* minutes */
#define DAY_MINUTES 1440
#define MOST_KEPT 24
#define FRESH_US (30 * G_USEC_PER_SEC) /* later, what was named meanwhile counts */

typedef struct {
  GPtrArray *names; /* (owned) (nullable) */
  gint64 read_at;   /* monotonic; 0 for stale */
} Ranking;

struct _TptNameRanks {
  GObject parent_instance;

  TptProject *project;       /* (owned) (nullable) */
  GCancellable *cancellable; /* (owned) */
  GHashTable *rankings;      /* (owned) (element-type utf8 Ranking) */
  char *reading;             /* (owned) (nullable): key of what is being read */
  char *next_station;        /* (owned) (nullable): wanted after that */
  int next_minute;
  guint generation;
  guint reading_generation;
};

G_DEFINE_FINAL_TYPE (TptNameRanks, tpt_name_ranks, G_TYPE_OBJECT)

enum {
  SIGNAL_READ,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static void
free_ranking (gpointer data)
{
  Ranking *ranking = data;

  g_clear_pointer (&ranking->names, g_ptr_array_unref);
  g_free (ranking);
}

static int
round_minute (int minute)
{
  return minute < 0 ? -1 : (minute + BUCKET / 2) / BUCKET * BUCKET % DAY_MINUTES;
}

static char *
make_key (const char *station, int minute)
{
  return g_strdup_printf ("%d %s", round_minute (minute), station);
}

static gboolean
is_fresh (TptNameRanks *self, const char *key)
{
  const Ranking *ranking = g_hash_table_lookup (self->rankings, key);

  return ranking != NULL && ranking->read_at != 0 && g_get_monotonic_time () - ranking->read_at < FRESH_US;
}

/* Stations follow each other in a list: old ones hardly come back. */
static void
keep (TptNameRanks *self, char *key, GPtrArray *names)
{
  Ranking *ranking = g_new0 (Ranking, 1);

  if (g_hash_table_size (self->rankings) >= MOST_KEPT)
    g_hash_table_remove_all (self->rankings);
  ranking->names = g_ptr_array_ref (names);
  ranking->read_at = self->generation == self->reading_generation ? g_get_monotonic_time () : 0;
  g_hash_table_replace (self->rankings, key, ranking);
}

static void
read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptNameRanks) self = data;
  g_autofree char *key = g_steal_pointer (&self->reading);
  g_autofree char *next = g_steal_pointer (&self->next_station);
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, NULL);

  if (self->project == NULL)
    return;
  if (good) /* otherwise the reading of the trigger itself has told why */
    keep (self, g_steal_pointer (&key), tpt_job_names_get_names (TPT_JOB_NAMES (tpt_project_get_job (result))));
  if (next != NULL)
    tpt_name_ranks_want (self, next, self->next_minute);
  if (good)
    g_signal_emit (self, signals[SIGNAL_READ], 0);
}

static void
tpt_name_ranks_dispose (GObject *object)
{
  tpt_name_ranks_stop (TPT_NAME_RANKS (object));

  G_OBJECT_CLASS (tpt_name_ranks_parent_class)->dispose (object);
}

static void
tpt_name_ranks_finalize (GObject *object)
{
  TptNameRanks *self = TPT_NAME_RANKS (object);

  g_object_unref (self->cancellable);
  g_hash_table_unref (self->rankings);
  g_free (self->reading);
  g_free (self->next_station);

  G_OBJECT_CLASS (tpt_name_ranks_parent_class)->finalize (object);
}

static void
tpt_name_ranks_class_init (TptNameRanksClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_name_ranks_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_name_ranks_finalize;
  signals[SIGNAL_READ] =
    g_signal_new ("read", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
tpt_name_ranks_init (TptNameRanks *self)
{
  self->cancellable = g_cancellable_new ();
  self->rankings = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, free_ranking);
}

TptNameRanks *
tpt_name_ranks_new (TptProject *project)
{
  TptNameRanks *self = g_object_new (TPT_TYPE_NAME_RANKS, NULL);

  self->project = g_object_ref (project);
  return self;
}

/* While one is read, only the latest wish is remembered. */
static void
wait_for (TptNameRanks *self, const char *station, int minute)
{
  g_autofree char *kept = g_strdup (station);

  g_free (self->next_station);
  self->next_station = g_steal_pointer (&kept);
  self->next_minute = minute;
}

void
tpt_name_ranks_want (TptNameRanks *self, const char *station, int minute)
{
  g_autofree char *key = make_key (station, minute);
  g_autoptr (TptJobNames) job = NULL;

  if (self->project == NULL || is_fresh (self, key) || g_strcmp0 (key, self->reading) == 0)
    return;
  if (self->reading != NULL)
    {
      wait_for (self, station, minute);
      return;
    }
  job = tpt_job_names_new (station, round_minute (minute), NULL);
  self->reading = g_steal_pointer (&key);
  self->reading_generation = self->generation;
  tpt_project_run_async (self->project, TPT_JOB (job), self->cancellable, read_cb, g_object_ref (self));
}

GPtrArray *
tpt_name_ranks_get (TptNameRanks *self, const char *station, int minute)
{
  g_autofree char *key = make_key (station, minute);
  const Ranking *ranking = g_hash_table_lookup (self->rankings, key);

  return ranking != NULL ? ranking->names : NULL;
}

void
tpt_name_ranks_renew (TptNameRanks *self)
{
  GHashTableIter iter;
  gpointer ranking;

  self->generation++;
  g_hash_table_iter_init (&iter, self->rankings);
  while (g_hash_table_iter_next (&iter, NULL, &ranking))
    ((Ranking *) ranking)->read_at = 0;
}

void
tpt_name_ranks_stop (TptNameRanks *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->project);
}
