/* A card that was copied goes on record. */
#include "config.h"

#include "tpt-job-intake-private.h"

#include <glib/gi18n-lib.h>

#include "tpt-batches.h"
#include "tpt-card-clock-private.h"

static TptFrameFacts
get_facts (const TptIntakeFrame *frame)
{
  return (TptFrameFacts){ .place = (int) frame->place,
                          .kind = tpt_scan_kind_to_string (frame->kind),
                          .temperature_c = frame->exif->temperature_c,
                          .flash = frame->exif->flash,
                          .sequence = frame->exif->sequence };
}

static void
fill_frames (TptJobIntake *self, TptNewFrame *frames, TptFrameFacts *facts, GPtrArray *strings)
{
  for (guint i = 0; i < self->intake->frames->len; i++)
    {
      TptIntakeFrame *frame = self->intake->frames->pdata[i];
      char *file = tpt_job_intake_get_path (self, frame->file);
      char *time = frame->exif->source != TPT_TIME_NONE ? tpt_reading_format (frame->exif->reading) : NULL;

      g_ptr_array_add (strings, file);
      g_ptr_array_add (strings, time);
      facts[i] = get_facts (frame);
      frames[i] = (TptNewFrame){
        .file = file,
        .camera_time = time,
        .time_source = tpt_time_source_to_string (frame->exif->source),
        .at = frame->at,
        .sha256 = frame->sha256,
        .bytes = frame->bytes,
        .damage = frame->damage,
        .trigger = frame->at != TPT_NO_INSTANT ? (int) frame->trigger : -1,
        .facts = &facts[i],
      };
    }
}

/* The pair that the times on record rest on: somebody's for this card, or a visit's. */
static void
fill_clock (TptJobIntake *self, TptNewBatch *batch)
{
  TptZone *zone = tpt_store_get_zone (self->store);
  guint pair;

  batch->clock_true = TPT_NO_INSTANT;
  batch->clock_offset_s = tpt_job_intake_get_clock_offset (self);
  if (self->clock_read != NULL)
    {
      batch->clock_read = self->clock_read;
      batch->clock_true = tpt_instant_parse (self->clock_true, zone, NULL);
    }
  else if (*self->intake->steps != NULL && tpt_clock_plan_uses_pair (self->intake->plan, &pair))
    {
      batch->clock_read = self->facts->reads->pdata[pair];
      batch->clock_true = g_array_index (self->facts->pairs, TptClockPair, pair).true_at;
    }
}

gboolean
tpt_job_intake_record (TptJobIntake *self, GError **error)
{
  guint n = self->intake->frames->len, n_aside = self->unreadable->len;
  g_autofree TptNewFrame *frames = g_new0 (TptNewFrame, n);
  g_autofree TptFrameFacts *facts = g_new0 (TptFrameFacts, n);
  g_autoptr (TptCardPieces) pieces =
    tpt_card_pieces_new (self->intake->plan, (const char *const *) self->intake->steps, self->intake->sights);
  g_autofree TptNewSetAside *aside = g_new0 (TptNewSetAside, n_aside);
  g_autoptr (GPtrArray) strings = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *source = g_path_get_basename (self->card);
  g_autofree char *shown = g_filename_display_name (source);
  g_autofree char *folder = tpt_job_intake_get_path (self, self->prefix);
  g_autofree char *code = NULL;
  g_autofree char *what = g_strdup_printf (ngettext ("Take in %u frame of %s", "Take in %u frames of %s", n), n, self->deployment);
  g_autoptr (TptAction) action = NULL;
  TptNewBatch batch = {
    .deployment_id = tpt_record_get_id (self->record),
    .source = shown,
    .folder = folder,
    .duplicates = (int) self->intake->duplicates->len,
    .frames = frames,
    .n_frames = n,
    .set_aside = aside,
    .n_set_aside = n_aside,
    .camera_model = self->model,
    .camera_serial = self->serial,
    .pieces = (const TptClockPiece *) (gpointer) pieces->pieces->data,
    .n_pieces = pieces->pieces->len,
  };

  fill_clock (self, &batch);
  fill_frames (self, frames, facts, strings);
  for (guint i = 0; i < n_aside; i++)
    {
      TptIntakeNote *note = self->unreadable->pdata[i];
      aside[i] = (TptNewSetAside){ note->file, note->reason, note->kept_as };
    }

  /* Inside the action, so that a card taken in beside this one gets another. */
  action = tpt_action_begin (self->store, what, error);
  batch.batch = code = action != NULL ? tpt_store_make_batch_code (self->store, self->deployment, error) : NULL;
  if (code == NULL || !tpt_store_add_batch (self->store, &batch, error) || !tpt_action_commit (action, error))
    return FALSE;
  self->batch = g_steal_pointer (&code);
  return TRUE;
}
