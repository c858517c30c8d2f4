#include "config.h"

#include "tpt-name-counts.h"

#include <stdlib.h>

#include "tpt-store-private.h"

#define NEAR_MINUTES 120
#define DAY_MINUTES 1440

static void
clear_count (gpointer data)
{
  g_free (((TptNameCount *) data)->species);
}

static void
fill_count (TptStmt *stmt, gpointer row)
{
  *(TptNameCount *) row = (TptNameCount){ .species_id = tpt_stmt_int (stmt, 0),
                                          .species = g_strdup (tpt_stmt_text (stmt, 1)),
                                          .project = tpt_stmt_int (stmt, 2) };
}

/* All of them less those that do not count: both come from an index, where asking
 * each row for its opinion would read every row. */
static GArray *
count_in_project (TptStore *self, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT p.id, p.scientific_name, coalesce(c.n, 0) - coalesce(k.n, 0) FROM species p"
                    " LEFT JOIN (SELECT species_id, count(*) AS n FROM observations WHERE species_id > 0 GROUP BY species_id) c"
                    "  ON c.species_id = p.id"
                    " LEFT JOIN (SELECT species_id, count(*) AS n FROM observations INDEXED BY observations_beside"
                    "  WHERE opinion >= 2 GROUP BY +species_id) k"
                    "  ON k.species_id = p.id ORDER BY p.id",
                    error);
  GArray *rows = tpt_store_read_rows (stmt, sizeof (TptNameCount), fill_count, error);

  if (rows != NULL)
    g_array_set_clear_func (rows, clear_count);
  return rows;
}

/* Times of day go round: 23:30 and 00:30 are an hour apart. */
static gboolean
is_near (TptStore *self, TptInstant at, int minute)
{
  TptInstant local = at + tpt_zone_offset_at (self->zone, at) * TPT_SECOND;
  int there = (int) (((local % TPT_DAY) + TPT_DAY) % TPT_DAY / TPT_MINUTE);
  int apart = abs (there - minute);

  return minute < 0 || MIN (apart, DAY_MINUTES - apart) <= NEAR_MINUTES;
}

static int
compare_species_cb (gconstpointer a, gconstpointer b)
{
  gint64 x = ((const TptNameCount *) a)->species_id, y = ((const TptNameCount *) b)->species_id;

  return (x > y) - (x < y);
}

static gboolean
count_at_station (TptStore *self, const char *station, int minute, GArray *counts, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT o.species_id, o.start_at FROM stations s JOIN deployments d ON d.station_id = s.id"
                    " JOIN observations o ON o.deployment_id = d.id WHERE s.station = ?1 AND o.species_id > 0"
                    " AND coalesce(o.opinion, 1) < 2",
                    error);
  GError *failure = NULL;

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_text (stmt, 1, station);
  while (tpt_stmt_next (stmt, &failure))
    {
      TptNameCount wanted = { .species_id = tpt_stmt_int (stmt, 0) };
      TptNameCount *found = bsearch (&wanted, counts->data, counts->len, sizeof wanted, compare_species_cb);

      if (found == NULL)
        continue;
      found->station++;
      found->here += is_near (self, tpt_stmt_instant (stmt, 1), minute);
    }
  if (failure != NULL)
    g_propagate_error (error, failure);
  return failure == NULL;
}

GArray *
tpt_store_count_names (TptStore *self, const char *station, int minute, GError **error)
{
  g_autoptr (GArray) counts = count_in_project (self, error);

  if (counts == NULL || (station != NULL && !count_at_station (self, station, minute, counts, error)))
    return NULL;
  return g_steal_pointer (&counts);
}

static void
clear_name (gpointer data)
{
  TptCommonName *name = data;

  g_free (name->language);
  g_free (name->name);
}

static void
fill_name (TptStmt *stmt, gpointer row)
{
  *(TptCommonName *) row =
    (TptCommonName){ tpt_stmt_int (stmt, 0), g_strdup (tpt_stmt_text (stmt, 1)), g_strdup (tpt_stmt_text (stmt, 2)) };
}

GArray *
tpt_store_read_common_names (TptStore *self, gint64 species_id, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db,
                                             "SELECT species_id, language, name FROM common_names"
                                             " WHERE ?1 = 0 OR species_id = ?1 ORDER BY species_id, language",
                                             error);
  GArray *rows;

  if (stmt != NULL)
    tpt_stmt_bind_int (stmt, 1, species_id);
  rows = tpt_store_read_rows (stmt, sizeof (TptCommonName), fill_name, error);
  if (rows != NULL)
    g_array_set_clear_func (rows, clear_name);
  return rows;
}
