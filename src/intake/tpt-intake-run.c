#include "config.h"

#include "tpt-intake-run.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-copy-private.h"
#include "tpt-error.h"
#include "tpt-intake-judge.h"
#include "tpt-intake-place.h"
#include "tpt-intake-private.h"
#include "tpt-intake-verifier.h"

/* One file that cannot be read is a bad spot; so many in a row are a card that is gone. */
#define MOST_FAILURES 3

typedef struct {
  const TptIntakeRequest *request;  /* (unowned) */
  GCancellable *cancellable;        /* (unowned) (nullable) */
  TptScan *scan;                    /* (unowned) */
  TptIntakePlaces *places;          /* (unowned) */
  TptIntakeVerifier *verifier;      /* (unowned) (nullable): NULL when only verifying */
  TptIntake *intake;                /* (unowned) */
  GHashTable *by_content;           /* (unowned): sha256 of a frame to its source */
  guint files_done;
  guint failures;                   /* in a row */
  gint64 bytes_done;
} Run;

/* One file on its way. */
typedef struct {
  Run *run;
  const TptScanFile *file;  /* (unowned) */
  char *path;               /* (owned): on the card */
  TptIntakeJudge judge;
  TptCopy *copy;            /* (owned) (nullable): NULL when only hashed */
  char sha256[TPT_SHA256_SIZE];
  gint64 bytes;
} Item;

static void
clear_item (Item *item)
{
  g_free (item->path);
  tpt_intake_judge_clear (&item->judge);
  g_clear_pointer (&item->copy, tpt_copy_free);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Item, clear_item)

static void
add_duplicate (Run *run, const Item *item, const char *of)
{
  TptIntakeDuplicate *duplicate = g_new0 (TptIntakeDuplicate, 1);

  duplicate->source = g_strdup (item->file->path);
  duplicate->of = g_strdup (of);
  duplicate->bytes = item->bytes;
  g_strlcpy (duplicate->sha256, item->sha256, sizeof duplicate->sha256);
  g_ptr_array_add (run->intake->duplicates, duplicate);
}

static void
add_frame (Run *run, const Item *item, TptIntakeVerdict *verdict, const char *file, gboolean was_there)
{
  TptIntakeFrame *frame = g_new0 (TptIntakeFrame, 1);

  frame->source = g_strdup (item->file->path);
  frame->file = g_strdup (file);
  frame->bytes = item->bytes;
  frame->kind = verdict->kind;
  frame->exif = g_steal_pointer (&verdict->exif);
  frame->damage = g_steal_pointer (&verdict->damage);
  frame->was_there = was_there;
  g_strlcpy (frame->sha256, item->sha256, sizeof frame->sha256);

  run->intake->bytes += frame->bytes;
  g_ptr_array_add (run->intake->frames, frame);
  g_hash_table_insert (run->by_content, frame->sha256, frame->source);
}

static void
report_progress (Run *run, const char *name)
{
  const TptIntakeRequest *request = run->request;

  if (request->progress != NULL)
    request->progress (run->files_done, run->scan->frames->len, run->bytes_done, run->scan->bytes, name,
                       request->progress_data);
}

static void
tap_cb (const guint8 *data, gsize length, gpointer user_data)
{
  Item *item = user_data;

  tpt_intake_judge_feed (&item->judge, data, length);
  item->run->bytes_done += length;
  report_progress (item->run, item->file->path);
}

static void
restart_judge (Item *item)
{
  tpt_intake_judge_clear (&item->judge);
  tpt_intake_judge_init (&item->judge);
}

static gboolean
begin_copy (Item *item, gboolean *source_failed, GError **error)
{
  Run *run = item->run;

  restart_judge (item);
  item->copy = tpt_copy_begin (item->path, run->request->destination, tap_cb, item, run->cancellable,
                               source_failed, error);
  if (item->copy == NULL)
    return FALSE;
  item->bytes = tpt_copy_get_bytes (item->copy);
  g_strlcpy (item->sha256, tpt_copy_get_sha256 (item->copy), sizeof item->sha256);
  return TRUE;
}

static gboolean
hash_only (Item *item, gboolean *source_failed, GError **error)
{
  restart_judge (item);
  *source_failed = !tpt_copy_hash (item->path, item->run->request->verify_only, tap_cb, item, item->sha256,
                                   &item->bytes, item->run->cancellable, error);
  return !*source_failed;
}

/* Reads the file once; writes it to a temporary place unless its content may
 * be at the destination already. */
static gboolean
read_item (Item *item, gboolean *source_failed, GError **error)
{
  Run *run = item->run;

  if (run->request->verify_only ||
      tpt_intake_places_may_have (run->places, item->file->path, item->file->bytes))
    return hash_only (item, source_failed, error);
  return begin_copy (item, source_failed, error);
}

static gboolean
is_duplicate (Run *run, const Item *item)
{
  const TptIntakeRequest *request = run->request;
  const char *of = g_hash_table_lookup (run->by_content, item->sha256);

  if (of == NULL && (request->verify_only || request->is_known == NULL ||
                     !request->is_known (item->sha256, request->is_known_data)))
    return FALSE;
  add_duplicate (run, item, of);
  return TRUE;
}

/* The name is taken by something else after all, so the file has to be written. */
static gboolean
read_again (Item *item, GError **error)
{
  g_autofree char *before = g_strdup (item->sha256);

  item->run->bytes_done -= item->bytes;
  if (!begin_copy (item, NULL, error))
    return FALSE;
  if (g_str_equal (before, item->sha256))
    return TRUE;
  return tpt_copy_fail (error, _("“%s” reads differently each time; the card is failing"), item->path, EIO);
}

static void
record (Run *run, const Item *item, TptIntakeVerdict *verdict, const char *file, gboolean was_there)
{
  tpt_intake_places_take (run->places, file);
  if (verdict->unreadable != NULL)
    tpt_intake_add_trouble (run->intake->unreadable, item->file->path, verdict->unreadable, file);
  else
    add_frame (run, item, verdict, file, was_there);
}

static gboolean
send_to_verifier (Item *item, const char *file, GError **error)
{
  Run *run = item->run;
  g_autofree char *path = tpt_intake_places_get_path (run->places, file);

  if (!tpt_intake_places_make_folders (run->places, file, error))
    return FALSE;
  run->intake->n_copied++;
  return tpt_intake_verifier_push (run->verifier, g_steal_pointer (&item->copy), path, error);
}

/* The content as a path to read metadata from: never the card's own file,
 * whose access time might change. */
static char *
get_readable_path (const Item *item, const char *file)
{
  return item->copy != NULL ? g_strdup (tpt_copy_get_path (item->copy))
                            : tpt_intake_places_get_path (item->run->places, file);
}

static gboolean
store_copy (Item *item, GError **error)
{
  Run *run = item->run;
  g_auto (TptIntakeVerdict) verdict = { 0 };
  g_autofree char *file = NULL;
  TptIntakePlace place;

  tpt_intake_judge_decide (&item->judge, tpt_copy_get_path (item->copy), item->file, &verdict);
  place = tpt_intake_places_find (run->places, item->file->path, verdict.unreadable != NULL, item->sha256,
                                  item->bytes, &file, run->cancellable, error);
  if (place == TPT_PLACE_FAILED)
    return FALSE;
  if (place == TPT_PLACE_FREE && !send_to_verifier (item, file, error))
    return FALSE;

  record (run, item, &verdict, file, place == TPT_PLACE_SAME);
  return item->copy == NULL || tpt_copy_discard (g_steal_pointer (&item->copy), error);
}

/* Where the content is among the frames or the unreadable of an earlier run.
 * %TPT_PLACE_FREE: nowhere. */
static TptIntakePlace
find_earlier (const Item *item, char **file, GError **error)
{
  Run *run = item->run;
  TptIntakePlace place = TPT_PLACE_FREE;

  for (int aside = 0; aside < 2 && place == TPT_PLACE_FREE; aside++)
    {
      g_clear_pointer (file, g_free);
      place = tpt_intake_places_find (run->places, item->file->path, aside, item->sha256, item->bytes, file,
                                      run->cancellable, error);
    }
  return place;
}

static void
record_earlier (Item *item, const char *file)
{
  g_auto (TptIntakeVerdict) verdict = { 0 };
  g_autofree char *path = get_readable_path (item, file);

  tpt_intake_judge_decide (&item->judge, path, item->file, &verdict);
  record (item->run, item, &verdict, file, TRUE);
}

static gboolean
store_hashed (Item *item, GError **error)
{
  g_autofree char *file = NULL;

  switch (find_earlier (item, &file, error))
    {
    case TPT_PLACE_SAME:
      record_earlier (item, file);
      return TRUE;
    case TPT_PLACE_FREE:
      if (!item->run->request->verify_only)
        return read_again (item, error) && store_copy (item, error);
      tpt_intake_add_trouble (item->run->intake->missing, item->file->path,
                   _("The pictures' folder has no file of this name and content"), NULL);
      return TRUE;
    case TPT_PLACE_FAILED:
    default:
      return FALSE;
    }
}

static gboolean
store_item (Item *item, GError **error)
{
  if (!is_duplicate (item->run, item))
    return item->copy != NULL ? store_copy (item, error) : store_hashed (item, error);
  return item->copy == NULL || tpt_copy_discard (g_steal_pointer (&item->copy), error);
}

static gboolean
is_card_there (Run *run)
{
  return run->failures < MOST_FAILURES && g_file_test (run->request->card, G_FILE_TEST_IS_DIR);
}

/* A spot on the card that cannot be read costs one file; anything else stops
 * the run. Takes @cause. */
static gboolean
bear_failure (Item *item, gboolean source_failed, GError *cause, GError **error)
{
  Run *run = item->run;

  run->failures++;
  if (!source_failed || !g_error_matches (cause, TPT_ERROR, TPT_ERROR_IO) || !is_card_there (run))
    {
      g_propagate_error (error, cause);
      return FALSE;
    }
  tpt_intake_add_trouble (run->intake->unreadable, item->file->path, cause->message, NULL);
  g_error_free (cause);
  return TRUE;
}

static gboolean
take_file (Run *run, const TptScanFile *file, GError **error)
{
  g_auto (Item) item = { .run = run, .file = file };
  gint64 bytes_before = run->bytes_done;
  gboolean source_failed = FALSE;
  GError *cause = NULL;

  report_progress (run, file->path);
  if (g_cancellable_set_error_if_cancelled (run->cancellable, error))
    return FALSE;

  item.path = g_build_filename (run->request->card, file->path, NULL);
  if (read_item (&item, &source_failed, &cause))
    {
      run->failures = 0;
      if (!store_item (&item, error))
        return FALSE;
    }
  else if (!bear_failure (&item, source_failed, cause, error))
    return FALSE;

  run->files_done++;
  run->bytes_done = bytes_before + file->bytes;
  return TRUE;
}

static gboolean
take_files (Run *run, GError **error)
{
  for (guint i = 0; i < run->scan->frames->len; i++)
    if (!take_file (run, g_ptr_array_index (run->scan->frames, i), error))
      return FALSE;
  report_progress (run, NULL);
  return TRUE;
}

/* What could not even be listed may hide frames. */
static void
take_others (Run *run)
{
  for (guint i = 0; i < run->scan->others->len; i++)
    {
      const TptScanFile *file = g_ptr_array_index (run->scan->others, i);

      if (file->failed)
        tpt_intake_add_trouble (run->intake->unreadable, file->path, file->why, NULL);
    }
  run->intake->others = g_ptr_array_ref (run->scan->others);
}

static gboolean
prepare_destination (Run *run, GError **error)
{
  const char *destination = run->request->destination;
  gint64 needed = 0;

  for (guint i = 0; i < run->scan->frames->len; i++)
    {
      const TptScanFile *file = g_ptr_array_index (run->scan->frames, i);

      if (!tpt_intake_places_may_have (run->places, file->path, file->bytes))
        needed += file->bytes;
    }
  return tpt_intake_places_make_folders (run->places, "x", error) && tpt_copy_clean (destination, NULL, error) &&
         tpt_copy_check_space (destination, needed, error);
}

static gboolean
copy_all (Run *run, GError **error)
{
  g_autoptr (TptIntakeVerifier) verifier = NULL;

  if (!prepare_destination (run, error))
    return FALSE;
  verifier = tpt_intake_verifier_new (run->cancellable);
  run->verifier = verifier;
  return take_files (run, error) && tpt_intake_verifier_finish (g_steal_pointer (&verifier), error) &&
         tpt_intake_places_sync (run->places, error);
}

TptIntake *
tpt_intake_run (const TptIntakeRequest *request, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptIntake) intake = tpt_intake_new ();
  g_autoptr (GHashTable) by_content = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (TptIntakePlaces) places = NULL;
  g_autoptr (TptScan) scan = NULL;
  Run run = { .request = request, .cancellable = cancellable, .intake = intake, .by_content = by_content };

  g_return_val_if_fail (request->card != NULL && request->destination != NULL && request->prefix != NULL, NULL);

  tpt_exif_init ();
  if (!tpt_intake_check_request (request, error))
    return NULL;
  run.scan = scan = tpt_scan_card (request->card, cancellable, error);
  if (scan == NULL)
    return NULL;

  run.places = places = tpt_intake_places_new (request->destination, request->prefix);
  if (!(request->verify_only ? take_files (&run, error) : copy_all (&run, error)))
    return NULL;
  take_others (&run);
  tpt_intake_make_records (request, intake);
  return g_steal_pointer (&intake);
}
