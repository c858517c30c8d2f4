#include "config.h"

#include "tpt-store.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-schema.h"
#include "tpt-store-private.h"

static TptStore *
new_store (const char *path)
{
  TptStore *self = g_new0 (TptStore, 1);

  self->path = g_canonicalize_filename (path, NULL);
  self->folder = g_path_get_dirname (self->path);
  self->now = TPT_NO_INSTANT;
  self->undo = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->redo = g_array_new (FALSE, FALSE, sizeof (gint64));
  return self;
}

static void
drop_memo (TptStore *self)
{
  if (self->memo != NULL)
    self->memo_destroy (self->memo);
  self->memo = NULL;
}

void
tpt_store_close (TptStore *self)
{
  drop_memo (self);
  g_clear_pointer (&self->db, tpt_db_close);
  g_clear_pointer (&self->zone, tpt_zone_unref);
  g_free (self->path);
  g_free (self->folder);
  g_free (self->seed);
  g_array_unref (self->undo);
  g_array_unref (self->redo);
  g_free (self->replayed_uuid);
  g_free (self);
}

static gboolean
put_setting (TptStore *self, const char *key, const char *value, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db, "INSERT INTO settings VALUES (?1, ?2) ON CONFLICT (key) DO UPDATE SET value = ?2", error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_text (stmt, 1, key);
  tpt_stmt_bind_text (stmt, 2, value);
  return tpt_stmt_run (stmt, error);
}

static gboolean
fill_new (TptStore *self, const char *name, const char *zone, GError **error)
{
  g_autoptr (TptTransaction) transaction = tpt_transaction_begin (self->db, error);
  g_autofree char *uuid = tpt_store_new_uuid (self);

  return transaction != NULL && tpt_schema_migrate (self->db, 0, TPT_SCHEMA_VERSION, tpt_store_get_now (self), error) &&
         put_setting (self, "uuid", uuid, error) && put_setting (self, "name", name, error) &&
         put_setting (self, "zone", zone, error) && put_setting (self, "independence_min", "30", error) &&
         put_setting (self, "independence_from", "last", error) && put_setting (self, "due_threshold", "0.1", error) &&
         put_setting (self, "floor_deg", "0.01", error) && tpt_transaction_commit (transaction, error);
}

static void
remove_half_made (const char *path)
{
  g_autofree char *journal = g_strconcat (path, "-journal", NULL);

  g_unlink (path);
  g_unlink (journal);
}

TptStore *
tpt_store_create (const char *path, const char *name, const char *zone, const char *seed, TptInstant now, GError **error)
{
  g_autoptr (TptStore) self = new_store (path);
  gboolean existed;

  self->zone = tpt_zone_new (zone, error);
  if (self->zone == NULL)
    return NULL;
  self->seed = g_strdup (seed);
  if (seed != NULL)
    self->now = now;
  existed = g_file_test (self->path, G_FILE_TEST_EXISTS);
  self->db = tpt_db_open (self->path, TPT_DB_CREATE, error);
  if (self->db == NULL)
    {
      if (!existed)
        remove_half_made (self->path);
      return NULL;
    }

  if (!fill_new (self, name, zone, error))
    {
      g_clear_pointer (&self->db, tpt_db_close);
      remove_half_made (self->path);
      return NULL;
    }
  return g_steal_pointer (&self);
}

static gboolean
refuse_newer (TptStore *self, gint64 version, GError **error)
{
  if (version <= TPT_SCHEMA_VERSION)
    return TRUE;
  g_set_error (error, TPT_ERROR, TPT_ERROR_NEWER,
               _("%s was written by a newer version of Tapetum (file version %d, this program reads up to %d); it was not touched"),
               self->path, (int) version, TPT_SCHEMA_VERSION);
  return FALSE;
}

/* The version is read again under the lock: another program may have brought
 * the file up to date meanwhile. */
static gboolean
migrate (TptStore *self, GError **error)
{
  g_autoptr (TptTransaction) transaction = NULL;
  gint64 from;

  if (self->read_only)
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_PROJECT,
                   _("%s comes from an older version and cannot be brought up to date because it is read only"), self->path);
      return FALSE;
    }
  transaction = tpt_transaction_begin (self->db, error);
  if (transaction == NULL || !tpt_schema_read_version (self->db, &from, error) || !refuse_newer (self, from, error))
    return FALSE;
  return from == TPT_SCHEMA_VERSION ||
         (tpt_schema_migrate (self->db, (int) from, TPT_SCHEMA_VERSION, tpt_instant_now (), error) &&
          tpt_transaction_commit (transaction, error));
}

static gboolean
accept_file (TptStore *self, GError **error)
{
  g_autofree char *zone = NULL;
  gint64 version;

  if (!tpt_schema_read_version (self->db, &version, error))
    {
      if (error != NULL && *error != NULL && !strstr ((*error)->message, self->path))
        g_prefix_error (error, "%s: ", self->path);
      return FALSE;
    }
  if (!refuse_newer (self, version, error) || (version < TPT_SCHEMA_VERSION && !migrate (self, error)))
    return FALSE;

  zone = tpt_store_get_setting (self, "zone");
  self->zone = tpt_zone_new (zone != NULL ? zone : "UTC", error);
  return self->zone != NULL;
}

/* A demo stays in its own time, or everything in it would be long overdue. */
static void
stop_clock (TptStore *self)
{
  g_autofree char *at = tpt_store_get_setting (self, "clock_at");

  if (at != NULL)
    self->now = tpt_instant_parse (at, self->zone, NULL);
}

TptStore *
tpt_store_open (const char *path, gboolean read_only, GError **error)
{
  g_autoptr (TptStore) self = new_store (path);

  self->read_only = read_only || g_access (self->path, W_OK) != 0;
  self->db = tpt_db_open (self->path, self->read_only ? TPT_DB_READ : TPT_DB_WRITE, error);
  if (self->db == NULL || !accept_file (self, error))
    return NULL;
  stop_clock (self);
  return g_steal_pointer (&self);
}

TptDb *
tpt_store_get_db (TptStore *self)
{
  return self->db;
}

const char *
tpt_store_get_path (TptStore *self)
{
  return self->path;
}

const char *
tpt_store_get_folder (TptStore *self)
{
  return self->folder;
}

TptZone *
tpt_store_get_zone (TptStore *self)
{
  return self->zone;
}

TptInstant
tpt_store_get_now (TptStore *self)
{
  return self->now != TPT_NO_INSTANT ? self->now : tpt_instant_now ();
}

TptInstant
tpt_store_get_clock (TptStore *self)
{
  return self->now;
}

/* RFC 9562: version 8, 'custom', from the digest of seed and counter. */
static char *
make_seeded_uuid (TptStore *self)
{
  g_autofree char *text = g_strdup_printf ("%s:%" G_GUINT64_FORMAT, self->seed, self->counter++);
  g_autofree char *hex = g_compute_checksum_for_string (G_CHECKSUM_SHA256, text, -1);

  return g_strdup_printf ("%.8s-%.4s-8%.3s-a%.3s-%.12s", hex, hex + 8, hex + 12, hex + 15, hex + 18);
}

char *
tpt_store_new_uuid (TptStore *self)
{
  return self->seed != NULL ? make_seeded_uuid (self) : g_uuid_string_random ();
}

char *
tpt_store_get_setting (TptStore *self, const char *key)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, "SELECT value FROM settings WHERE key = ?1", NULL);

  if (stmt == NULL)
    return NULL;
  tpt_stmt_bind_text (stmt, 1, key);
  return tpt_stmt_next (stmt, NULL) ? g_strdup (tpt_stmt_text (stmt, 0)) : NULL;
}

double
tpt_store_get_setting_real (TptStore *self, const char *key, double fallback)
{
  g_autofree char *value = tpt_store_get_setting (self, key);
  char *end = NULL;
  double real;

  if (value == NULL)
    return fallback;
  real = g_ascii_strtod (value, &end);
  return end != value && *end == '\0' && isfinite (real) ? real : fallback;
}

gboolean
tpt_store_set_setting (TptStore *self, const char *key, const char *value, GError **error)
{
  g_return_val_if_fail (self->action != NULL, FALSE);

  return put_setting (self, key, value, error);
}

gboolean
tpt_store_hold (TptStore *self, GError **error)
{
  return tpt_db_exec (self->db, "BEGIN DEFERRED", error);
}

void
tpt_store_release (TptStore *self)
{
  tpt_db_exec (self->db, "ROLLBACK", NULL);
}

gint64
tpt_store_get_data_version (TptStore *self)
{
  gint64 version = 0;

  tpt_db_query_int (self->db, "PRAGMA data_version", &version, NULL);
  return version;
}

/* A change that was rolled back counts as well: that costs a reading, no more. */
gpointer
tpt_store_get_memo (TptStore *self)
{
  if (self->memo != NULL && (self->memo_version != tpt_store_get_data_version (self) ||
                             self->memo_changes != tpt_db_count_changes (self->db)))
    drop_memo (self);
  return self->memo;
}

void
tpt_store_take_memo (TptStore *self, gpointer memo, GDestroyNotify destroy)
{
  drop_memo (self);
  self->memo = memo;
  self->memo_destroy = destroy;
  self->memo_version = tpt_store_get_data_version (self);
  self->memo_changes = tpt_db_count_changes (self->db);
}
