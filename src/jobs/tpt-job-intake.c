#include "config.h"

#include "tpt-job-intake-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-batches.h"
#include "tpt-card-safety-private.h"
#include "tpt-error.h"
#include "tpt-exif.h"
#include "tpt-records.h"

/* A rate measured for less time than this promises too much. */
#define TELLING_S 3.0
/* Frames asked for the camera's serial number before anything is copied. */
#define ASKED 20

G_DEFINE_FINAL_TYPE (TptJobIntake, tpt_job_intake, TPT_TYPE_JOB)

static void
free_note (gpointer data)
{
  TptIntakeNote *note = data;

  g_free (note->file);
  g_free (note->reason);
  g_free (note->kept_as);
  g_free (note);
}

static gboolean
is_known_cb (const char *sha256, gpointer data)
{
  TptJobIntake *self = data;

  gboolean known = FALSE;

  /* The answer cannot be an error: it is kept, and ends the run when the copy is done. */
  if (self->failure == NULL)
    tpt_store_knows_content (self->store, sha256, &known, &self->failure);
  return known;
}

/* (transfer full) (nullable): "3 min left", once that can be told. */
static char *
say_left (TptJobIntake *self, gint64 bytes_done, gint64 bytes_total)
{
  double passed_s = (double) (g_get_monotonic_time () - self->begun_us) / G_USEC_PER_SEC;
  double left_s = bytes_done > 0 ? passed_s * (double) (bytes_total - bytes_done) / (double) bytes_done : 0;
  int minutes = (int) ceil (left_s / 60);

  if (passed_s < TELLING_S || bytes_done <= 0 || bytes_done >= bytes_total)
    return NULL;
  if (left_s < 60)
    return g_strdup (_("less than a minute left"));
  if (minutes < 60)
    return g_strdup_printf (ngettext ("%d min left", "%d min left", (gulong) minutes), minutes);
  return g_strdup_printf (_("%1$d h %2$d min left"), minutes / 60, minutes % 60);
}

static void
progress_cb (guint files_done, guint files_total, gint64 bytes_done, gint64 bytes_total, const char *name, gpointer data)
{
  g_autofree char *left = say_left (data, bytes_done, bytes_total);
  g_autofree char *text = NULL;
  g_autofree char *shown = name != NULL ? g_filename_display_name (name) : g_strdup ("");

  if (left != NULL)
    text = g_strdup_printf (_("%1$u of %2$u files · %3$s · %4$s"), files_done, files_total, left, shown);
  else
    text = g_strdup_printf (_("%u of %u files · %s"), files_done, files_total, shown);
  tpt_job_report (data, bytes_total > 0 ? 0.98 * (double) bytes_done / (double) bytes_total : 0, text);
}

char *
tpt_job_intake_make_prefix (const char *deployment)
{
  char *safe = g_strdup (deployment);

  return g_strcanon (safe, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_", '_');
}

static gboolean
refuse_pictures (TptJobIntake *self, GError **error)
{
  g_auto (GStrv) parts = g_strsplit (self->pictures, "/", -1);

  if (!g_path_is_absolute (self->pictures) && !g_strv_contains ((const char *const *) parts, "..") && *self->pictures != '\0')
    return TRUE;
  g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE,
               _("The pictures’ folder “%s” must be a folder below the project’s own, without “..”"), self->pictures);
  return FALSE;
}

static gboolean
fill_pair (TptJobIntake *self, TptClock *clock, GError **error)
{
  if (self->clock_read == NULL && self->clock_true == NULL)
    return TRUE;
  if (self->clock_read == NULL || self->clock_true == NULL)
    {
      g_set_error_literal (error, TPT_ERROR, TPT_ERROR_USAGE,
                           _("A clock correction needs both what the camera showed and the true time"));
      return FALSE;
    }
  clock->has_pair = tpt_reading_parse (self->clock_read, &clock->read, error);
  if (clock->has_pair)
    {
      clock->true_at = tpt_instant_parse (self->clock_true, clock->zone, error);
      clock->has_pair = clock->true_at != TPT_NO_INSTANT;
    }
  if (!clock->has_pair && error != NULL && *error != NULL)
    (*error)->code = TPT_ERROR_USAGE; /* the request, not the card */
  return clock->has_pair;
}

static gboolean
prepare (TptJobIntake *self, TptStore *store, GError **error)
{
  GError *failure = NULL;

  if (!refuse_pictures (self, error))
    return FALSE;
  self->store = store;
  self->record = tpt_store_find (store, TPT_TABLE_DEPLOYMENTS, self->deployment, &failure);
  if (failure != NULL)
    {
      g_propagate_error (error, failure);
      return FALSE;
    }
  if (self->record == NULL)
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("There is no deployment “%s” in this project"), self->deployment);
      return FALSE;
    }
  self->prefix = tpt_job_intake_make_prefix (self->deployment);
  return TRUE;
}

/* (transfer full) (nullable): of the camera, from the first frames. */
static char *
peek_serial (TptJobIntake *self, GCancellable *cancellable)
{
  g_autoptr (TptScan) scan = tpt_scan_card (self->card, cancellable, NULL);
  char *serial = NULL;

  for (guint i = 0; scan != NULL && serial == NULL && i < MIN (scan->frames->len, ASKED); i++)
    {
      const TptScanFile *file = scan->frames->pdata[i];
      g_autofree char *path = g_build_filename (self->card, file->path, NULL);
      TptExif *exif = file->kind != TPT_SCAN_CLIP ? tpt_exif_read (path, TPT_NO_INSTANT, NULL) : NULL;

      if (exif != NULL)
        serial = g_strdup (exif->serial);
      tpt_exif_free (exif);
    }
  return serial;
}

static gboolean
read_facts (TptJobIntake *self, GCancellable *cancellable, GError **error)
{
  g_autofree char *serial = NULL;

  tpt_exif_init ();
  serial = peek_serial (self, cancellable);
  self->records = tpt_card_records_new (self->store, error);
  if (self->records == NULL)
    return FALSE;
  self->facts = tpt_card_facts_new (self->records, self->record, serial);
  return TRUE;
}

static TptIntake *
copy_card (TptJobIntake *self, GCancellable *cancellable, GError **error)
{
  g_autofree char *destination = g_build_filename (tpt_store_get_folder (self->store), self->pictures, NULL);
  TptClockKnown known;
  TptIntakeRequest request = {
    .card = self->card,
    .destination = destination,
    .prefix = self->prefix,
    .known = &known,
    .steps = (const char *const *) self->wanted,
    .repair = self->repair,
    .frames_per_trigger = (int) tpt_record_get_integer (self->record, "frames_per_trigger", 0),
    .verify_only = self->verify_only,
    .is_known = is_known_cb,
    .is_known_data = self,
    .progress = progress_cb,
    .progress_data = self,
  };

  tpt_card_facts_fill_known (self->facts, &known);
  request.clock = known.clock;
  if (!fill_pair (self, &request.clock, error))
    return NULL;
  self->begun_us = g_get_monotonic_time ();
  return tpt_intake_run (&request, cancellable, error);
}

/* A second run over the same card finds every frame on record and its
 * unreadable files set aside already: nothing to add. */
static gboolean
has_news (TptJobIntake *self, gboolean *news, GError **error)
{
  *news = self->intake->frames->len > 0;
  for (guint i = 0; !*news && i < self->unreadable->len; i++)
    {
      TptIntakeNote *note = self->unreadable->pdata[i];
      gboolean known;

      if (!tpt_store_has_set_aside (self->store, tpt_record_get_id (self->record), note->file, &known, error))
        return FALSE;
      *news = !known;
    }
  return TRUE;
}

static gboolean
take_in (TptJobIntake *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  gboolean news;

  if (!prepare (self, store, error) || !read_facts (self, cancellable, error))
    return FALSE;
  self->intake = copy_card (self, cancellable, error);
  if (self->intake == NULL)
    return FALSE;
  if (self->failure != NULL)
    {
      g_propagate_error (error, g_steal_pointer (&self->failure));
      return FALSE;
    }
  tpt_job_intake_tell (self);
  /* Before the batch goes on record: afterwards nothing may fail any more. */
  if (!tpt_card_check_safe (store, self->intake, &self->why_not, cancellable, error))
    return FALSE;
  if (!self->verify_only && (!has_news (self, &news, error) || (news && !tpt_job_intake_record (self, error))))
    return FALSE;
  self->safe = self->why_not == NULL;
  return TRUE;
}

static gboolean
tpt_job_intake_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobIntake *self = TPT_JOB_INTAKE (job);
  gboolean good = take_in (self, store, cancellable, error);

  self->store = NULL;
  g_clear_error (&self->failure);
  g_clear_object (&self->record);
  g_clear_pointer (&self->prefix, g_free);
  g_clear_pointer (&self->facts, tpt_card_facts_free);
  g_clear_pointer (&self->records, tpt_card_records_free);
  if (good)
    tpt_job_report (job, 1, _("Done"));
  return good;
}

static void
tpt_job_intake_dispose (GObject *object)
{
  TptJobIntake *self = TPT_JOB_INTAKE (object);

  g_assert (self->store == NULL && self->record == NULL && self->prefix == NULL);
  g_clear_pointer (&self->deployment, g_free);
  g_clear_pointer (&self->card, g_free);
  g_clear_pointer (&self->pictures, g_free);
  g_clear_pointer (&self->clock_read, g_free);
  g_clear_pointer (&self->clock_true, g_free);
  g_clear_pointer (&self->wanted, g_strfreev);
  g_clear_pointer (&self->batch, g_free);
  g_clear_pointer (&self->model, g_free);
  g_clear_pointer (&self->serial, g_free);
  g_clear_pointer (&self->why_not, g_free);
  g_clear_pointer (&self->steps, g_ptr_array_unref);
  g_clear_pointer (&self->objections, g_ptr_array_unref);
  g_clear_pointer (&self->intake, tpt_intake_free);
  g_clear_pointer (&self->unreadable, g_ptr_array_unref);
  g_clear_pointer (&self->damaged, g_ptr_array_unref);
  g_clear_pointer (&self->missing, g_ptr_array_unref);
  g_clear_pointer (&self->doubts, g_ptr_array_unref);

  G_OBJECT_CLASS (tpt_job_intake_parent_class)->dispose (object);
}

static void
tpt_job_intake_class_init (TptJobIntakeClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_intake_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_intake_run;
  TPT_JOB_CLASS (klass)->writes = TRUE;
  TPT_JOB_CLASS (klass)->lengthy = TRUE;
}

static void
tpt_job_intake_init (TptJobIntake *self)
{
  self->pictures = g_strdup (TPT_JOB_INTAKE_PICTURES);
  self->unreadable = g_ptr_array_new_with_free_func (free_note);
  self->damaged = g_ptr_array_new_with_free_func (free_note);
  self->missing = g_ptr_array_new_with_free_func (free_note);
  self->doubts = g_ptr_array_new_with_free_func (g_free);
  self->objections = g_ptr_array_new_with_free_func (g_free);
  self->steps = g_ptr_array_new ();
}

TptJobIntake *
tpt_job_intake_new (const char *deployment, const char *card)
{
  TptJobIntake *self = g_object_new (TPT_TYPE_JOB_INTAKE, NULL);

  self->deployment = g_strdup (deployment);
  self->card = g_canonicalize_filename (card, NULL);
  return self;
}

void
tpt_job_intake_set_pictures (TptJobIntake *self, const char *pictures)
{
  g_free (self->pictures);
  self->pictures = g_strdup (pictures);
}

void
tpt_job_intake_set_clock (TptJobIntake *self, const char *read, const char *true_time)
{
  g_free (self->clock_read);
  g_free (self->clock_true);
  self->clock_read = g_strdup (read);
  self->clock_true = g_strdup (true_time);
}

void
tpt_job_intake_set_verify_only (TptJobIntake *self, gboolean verify_only)
{
  self->verify_only = verify_only;
}

void
tpt_job_intake_set_steps (TptJobIntake *self, const char *const *ids)
{
  g_strfreev (self->wanted);
  self->wanted = g_strdupv ((char **) ids);
}

void
tpt_job_intake_set_repair (TptJobIntake *self, gboolean repair)
{
  self->repair = repair;
}

const char *
tpt_job_intake_get_batch (TptJobIntake *self)
{
  return self->batch;
}

gint64
tpt_job_intake_get_frames (TptJobIntake *self)
{
  return self->intake != NULL ? self->intake->frames->len : 0;
}

gint64
tpt_job_intake_get_triggers (TptJobIntake *self)
{
  return self->intake != NULL ? self->intake->n_triggers : 0;
}

gint64
tpt_job_intake_get_duplicates (TptJobIntake *self)
{
  return self->intake != NULL ? self->intake->duplicates->len : 0;
}

gint64
tpt_job_intake_get_bytes (TptJobIntake *self)
{
  return self->intake != NULL ? self->intake->bytes : 0;
}

double
tpt_job_intake_get_clock_offset (TptJobIntake *self)
{
  const TptIntake *intake = self->intake;

  if (intake == NULL)
    return NAN;
  return self->clock_read != NULL || *intake->steps != NULL ? intake->clock.clock_offset_s : 0;
}

TptInstant
tpt_job_intake_get_first (TptJobIntake *self)
{
  return self->intake != NULL ? self->intake->first : TPT_NO_INSTANT;
}

TptInstant
tpt_job_intake_get_last (TptJobIntake *self)
{
  return self->intake != NULL ? self->intake->last : TPT_NO_INSTANT;
}

GPtrArray *
tpt_job_intake_get_unreadable (TptJobIntake *self)
{
  return self->unreadable;
}

GPtrArray *
tpt_job_intake_get_damaged (TptJobIntake *self)
{
  return self->damaged;
}

GPtrArray *
tpt_job_intake_get_missing (TptJobIntake *self)
{
  return self->missing;
}

GPtrArray *
tpt_job_intake_get_doubts (TptJobIntake *self)
{
  return self->doubts;
}

GPtrArray *
tpt_job_intake_get_steps (TptJobIntake *self)
{
  return self->steps;
}

GPtrArray *
tpt_job_intake_get_objections (TptJobIntake *self)
{
  return self->objections;
}

const char *
tpt_job_intake_get_camera_model (TptJobIntake *self)
{
  return self->model;
}

const char *
tpt_job_intake_get_camera_serial (TptJobIntake *self)
{
  return self->serial;
}

gboolean
tpt_job_intake_get_safe (TptJobIntake *self)
{
  return self->safe;
}

const char *
tpt_job_intake_get_why_not (TptJobIntake *self)
{
  return self->why_not;
}
