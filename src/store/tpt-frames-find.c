/* Which frames answer a wish. The statement is put together of fixed parts, so
 * that only a few different ones are ever prepared; lists of keys come in as
 * JSON arrays. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-error.h"
#include "tpt-fold.h"
#include "tpt-frames.h"
#include "tpt-frames-private.h"
#include "tpt-store-private.h"

enum {
  BATCH = 1,
  DEPLOYMENTS,
  SPECIES,
  TYPES,
  CERTAINTY,
  FROM,
  TO,
};

static const char with_sql[] =
  "WITH spoken(trigger_id) AS MATERIALIZED (" TPT_SPOKEN_SQL "),"
  " contested(trigger_id) AS MATERIALIZED (" TPT_CONTESTED_SQL ")";

/* One row per trigger: @rows is "t", the frame its first; then frames without one. */
static const char triggers_sql[] =
  " SELECT (SELECT min(f.id) FROM frames f WHERE f.trigger_id = t.id), t.id, t.start_at, t.start_at, t.blank_score,"
  " t.id IN spoken FROM triggers t JOIN batches b ON b.id = t.batch_id WHERE b.active AND t.frames > 0";
static const char frames_sql[] =
  " SELECT f.id, t.id, f.at, t.start_at, t.blank_score, t.id IN spoken"
  " FROM triggers t JOIN batches b ON b.id = t.batch_id JOIN frames f ON f.trigger_id = t.id WHERE b.active";
static const char alone_sql[] =
  " UNION ALL SELECT f.id, 0, f.at, f.at, NULL, f.id IN (SELECT frame_id FROM observations WHERE frame_id > 0)"
  " FROM frames f JOIN batches b ON b.id = f.batch_id WHERE f.trigger_id IS NULL AND b.active";

static gboolean
asks_observations (const TptFrameWish *wish)
{
  return wish->species != NULL || wish->types != NULL || !isnan (wish->certainty_below);
}

/* Conditions on where and when, for rows of @row, triggers or frames. */
static void
add_place_and_time (GString *sql, const TptFrameWish *wish, const char *row, const char *time)
{
  if (wish->batch != NULL)
    g_string_append_printf (sql, " AND %s.batch_id = (SELECT id FROM batches WHERE batch = ?%d)", row, BATCH);
  if (wish->stations != NULL)
    g_string_append_printf (sql, " AND %s.deployment_id IN (SELECT value FROM json_each(?%d))", row, DEPLOYMENTS);
  if (wish->range.from != TPT_NO_INSTANT)
    g_string_append_printf (sql, " AND %s >= ?%d", time, FROM);
  if (wish->range.to != TPT_NO_INSTANT)
    g_string_append_printf (sql, " AND %s < ?%d", time, TO);
}

static void
add_observation (GString *sql, const TptFrameWish *wish)
{
  g_string_append (sql, "coalesce(o.opinion, 1) < 2");
  if (wish->species != NULL)
    g_string_append_printf (sql, " AND o.species_id IN (SELECT value FROM json_each(?%d))", SPECIES);
  if (wish->types != NULL)
    g_string_append_printf (sql, " AND o.type IN (SELECT value FROM json_each(?%d))", TYPES);
  if (!isnan (wish->certainty_below))
    g_string_append_printf (sql, " AND o.certainty < ?%d", CERTAINTY);
}

static void
add_trigger_conditions (GString *sql, const TptFrameWish *wish)
{
  if (wish->undecided)
    g_string_append (sql, " AND t.id NOT IN spoken");
  if (wish->disagreeing)
    g_string_append (sql, " AND t.id IN contested");
  if (wish->marked)
    g_string_append (sql, " AND t.id IN (SELECT e.trigger_id FROM frame_marks m JOIN frames e ON e.id = m.frame_id"
                          " WHERE m.mark = 'guests')");
  if (!asks_observations (wish))
    return;
  g_string_append (sql, " AND t.id IN (SELECT o.trigger_id FROM observations o WHERE ");
  add_observation (sql, wish);
  g_string_append (sql, " UNION SELECT e.trigger_id FROM observations o JOIN frames e ON e.id = o.frame_id WHERE ");
  add_observation (sql, wish);
  g_string_append_c (sql, ')');
}

static void
add_frames_alone (GString *sql, const TptFrameWish *wish)
{
  if (wish->undecided || wish->disagreeing)
    return;
  g_string_append (sql, alone_sql);
  add_place_and_time (sql, wish, "f", "f.at");
  if (wish->marked)
    g_string_append (sql, " AND f.id IN (SELECT frame_id FROM frame_marks WHERE mark = 'guests')");
  if (!asks_observations (wish))
    return;
  g_string_append (sql, " AND f.id IN (SELECT o.frame_id FROM observations o WHERE ");
  add_observation (sql, wish);
  g_string_append_c (sql, ')');
}

static GString *
write_statement (const TptFrameWish *wish)
{
  GString *sql = g_string_new (with_sql);

  g_string_append (sql, wish->every_frame ? frames_sql : triggers_sql);
  add_place_and_time (sql, wish, "t", wish->every_frame ? "f.at" : "t.start_at");
  add_trigger_conditions (sql, wish);
  add_frames_alone (sql, wish);
  return sql;
}

/* (transfer full): a JSON array of whole numbers. */
static char *
write_keys (GArray *keys)
{
  GString *text = g_string_new ("[");

  for (guint i = 0; i < keys->len; i++)
    g_string_append_printf (text, "%s%" G_GINT64_FORMAT, i > 0 ? "," : "", g_array_index (keys, gint64, i));
  g_string_append_c (text, ']');
  return g_string_free (text, FALSE);
}

/* Types as tpt_job_frames_new() lets them through: our own words, which need no escaping. */
static char *
write_words (const char *const *words)
{
  g_autofree char *joined = g_strjoinv ("\",\"", (char **) words);

  return words[0] != NULL ? g_strdup_printf ("[\"%s\"]", joined) : g_strdup ("[]");
}

static void
fill_key (TptStmt *stmt, gpointer row)
{
  *(gint64 *) row = tpt_stmt_int (stmt, 0);
}

static GArray *
read_deployments_of (TptStore *self, const char *const *stations, GError **error)
{
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (guint i = 0; stations[i] != NULL; i++)
    {
      g_autoptr (TptStmt) stmt = tpt_db_prepare (
        self->db, "SELECT d.id FROM deployments d JOIN stations s ON s.id = d.station_id WHERE s.station = ?1", error);
      g_autoptr (GArray) some = NULL;

      if (stmt != NULL)
        tpt_stmt_bind_text (stmt, 1, stations[i]);
      some = tpt_store_read_rows (stmt, sizeof (gint64), fill_key, error);
      if (some == NULL)
        return NULL;
      g_array_append_vals (all, some->data, some->len);
    }
  return g_steal_pointer (&all);
}

static gboolean
bind_wish (TptStore *self, TptStmt *stmt, const TptFrameWish *wish, GError **error)
{
  g_autoptr (GArray) deployments = wish->stations != NULL ? read_deployments_of (self, wish->stations, error) : NULL;
  g_autofree char *where = deployments != NULL ? write_keys (deployments) : NULL;
  g_autofree char *species = wish->species != NULL ? write_keys (wish->species) : NULL;
  g_autofree char *types = wish->types != NULL ? write_words (wish->types) : NULL;

  if (wish->stations != NULL && deployments == NULL)
    return FALSE;
  tpt_stmt_bind_text (stmt, BATCH, wish->batch);
  tpt_stmt_bind_text (stmt, DEPLOYMENTS, where);
  tpt_stmt_bind_text (stmt, SPECIES, species);
  tpt_stmt_bind_text (stmt, TYPES, types);
  tpt_stmt_bind_double (stmt, CERTAINTY, wish->certainty_below);
  tpt_stmt_bind_instant (stmt, FROM, wish->range.from);
  tpt_stmt_bind_instant (stmt, TO, wish->range.to);
  return TRUE;
}

static void
fill_found (TptStmt *stmt, gpointer row)
{
  *(TptFoundFrame *) row = (TptFoundFrame){
    .frame_id = tpt_stmt_int (stmt, 0),
    .trigger_id = tpt_stmt_int (stmt, 1),
    .at = tpt_stmt_instant (stmt, 2),
    .start = tpt_stmt_instant (stmt, 3),
    .blank_score = tpt_stmt_double (stmt, 4),
    .decided = tpt_stmt_int (stmt, 5) != 0,
  };
}

GArray *
tpt_store_find_frames (TptStore *self, const TptFrameWish *wish, GError **error)
{
  g_autoptr (GString) sql = write_statement (wish);
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, sql->str, error);

  if (stmt == NULL || !bind_wish (self, stmt, wish, error))
    return NULL;
  return tpt_store_read_rows (stmt, sizeof (TptFoundFrame), fill_found, error);
}

/* Folds both sides alike: SQLite's own folding knows only ASCII. */
static gboolean
is_called (const char *name, const char *folded)
{
  g_autofree char *other = tpt_fold_text (name);

  return g_str_equal (other, folded);
}

static gboolean
add_species_called (TptStore *self, const char *name, GArray *keys, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (
    self->db, "SELECT id, scientific_name FROM species UNION ALL SELECT species_id, name FROM common_names ORDER BY 1", error);
  g_autofree char *folded = tpt_fold_text (name);
  GError *failure = NULL;
  guint before = keys->len;

  if (stmt == NULL)
    return FALSE;
  while (tpt_stmt_next (stmt, &failure))
    {
      gint64 id = tpt_stmt_int (stmt, 0);
      gboolean known = keys->len > before && g_array_index (keys, gint64, keys->len - 1) == id;

      if (!known && is_called (tpt_stmt_text (stmt, 1), folded))
        g_array_append_val (keys, id);
    }
  if (failure != NULL)
    g_propagate_error (error, failure);
  else if (keys->len == before)
    g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("There is no species “%s” in this project"), name);
  return failure == NULL && keys->len > before;
}

GArray *
tpt_store_find_species (TptStore *self, const char *const *names, GError **error)
{
  g_autoptr (GArray) keys = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (guint i = 0; names[i] != NULL; i++)
    if (!add_species_called (self, names[i], keys, error))
      return NULL;
  return g_steal_pointer (&keys);
}
