/* Where the naming view is in its list. */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-job-frames.h"
#include "tpt-naming-private.h"

#define LOOK_AT 128 /* frames at a time, for the next undecided trigger */

static guint
get_start (TptNamingView *self, guint index)
{
  return g_array_index (self->starts, guint, index);
}

/* The last trigger that begins at or before @position. */
static guint
find_index (TptNamingView *self, guint position)
{
  guint low = 0, high = self->starts->len;

  while (high > low + 1)
    {
      guint middle = low + (high - low) / 2;

      if (get_start (self, middle) <= position)
        low = middle;
      else
        high = middle;
    }
  return low;
}

guint
tpt_naming_get_index (TptNamingView *self)
{
  return find_index (self, self->position);
}

static void
find_starts (TptNamingView *self)
{
  guint n = self->list != NULL ? g_list_model_get_n_items (G_LIST_MODEL (self->list)) : 0;
  gint64 before = 0;

  g_array_set_size (self->starts, 0);
  for (guint i = 0; i < n; i++)
    {
      TptFrameRef ref = tpt_frame_list_get_ref (self->list, i);

      if (i == 0 || ref.trigger_id == 0 || ref.trigger_id != before)
        g_array_append_val (self->starts, i);
      before = ref.trigger_id;
    }
}

void
tpt_naming_go (TptNamingView *self, guint position)
{
  tpt_naming_flush_details (self);
  tpt_naming_free_keys (self);
  self->position = position;
  self->ref = (TptFrameRef){ 0, 0 };
  if (self->list != NULL)
    self->ref = tpt_frame_list_get_ref (self->list, position);
  tpt_naming_show_trigger (self);
  tpt_naming_notify_position (self);
}

static void
tell (TptNamingView *self, const char *message)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "win.say", "s", message);
}

gboolean
tpt_naming_step (TptNamingView *self, int triggers)
{
  gint64 index = (gint64) tpt_naming_get_index (self) + triggers;

  if (index < 0 || index >= self->starts->len)
    {
      tell (self, index < 0 ? _("This is the first trigger of the list.") : _("This is the last trigger of the list."));
      return FALSE;
    }
  tpt_naming_go (self, get_start (self, (guint) index));
  return TRUE;
}

gboolean
tpt_naming_return_to (TptNamingView *self, gint64 trigger_id)
{
  guint position = self->list != NULL ? tpt_frame_list_find_trigger (self->list, trigger_id) : G_MAXUINT;

  if (position == G_MAXUINT)
    return FALSE;
  if (self->ref.trigger_id != trigger_id)
    tpt_naming_go (self, position);
  return TRUE;
}

/* In an order other than by time a trigger that is new may be far away; whoever
 * goes through the list goes on from where they were. */
static gboolean
is_elsewhere (TptNamingView *self, gint64 trigger_id)
{
  guint here, there;

  if (self->to_show == 0 || trigger_id == self->ref.trigger_id)
    return FALSE;
  here = tpt_frame_list_find_trigger (self->list, self->ref.trigger_id);
  there = tpt_frame_list_find_trigger (self->list, trigger_id);
  if (here == G_MAXUINT || there == G_MAXUINT)
    return FALSE;
  return find_index (self, there) != find_index (self, here) + 1;
}

void
tpt_naming_list_changed (TptNamingView *self)
{
  gint64 trigger_id = self->to_show != 0 ? self->to_show : self->ref.trigger_id;
  guint n, found;

  find_starts (self);
  if (self->list != NULL && is_elsewhere (self, trigger_id))
    {
      self->to_show = 0;
      trigger_id = self->ref.trigger_id;
    }
  n = self->list != NULL ? g_list_model_get_n_items (G_LIST_MODEL (self->list)) : 0;
  found = trigger_id != 0 && n > 0 ? tpt_frame_list_find_trigger (self->list, trigger_id) : G_MAXUINT;
  if (found == G_MAXUINT || trigger_id != self->ref.trigger_id)
    {
      self->to_show = found == G_MAXUINT ? self->to_show : 0;
      tpt_naming_go (self, found != G_MAXUINT ? found : n > 0 ? MIN (self->position, n - 1) : 0);
      return;
    }
  if (found != self->position && tpt_frame_list_get_ref (self->list, self->position).trigger_id != trigger_id)
    {
      self->position = found;
      tpt_naming_notify_position (self);
    }
  tpt_naming_show_place (self);
}

/* --- the next undecided trigger ------------------------------------------------ */

static void look_on (TptNamingView *self, guint from);

/* (transfer full): the first frames of up to LOOK_AT triggers. */
static GArray *
list_refs (TptNamingView *self, guint from)
{
  GArray *refs = g_array_new (FALSE, FALSE, sizeof (TptFrameRef));

  for (guint i = from; i < self->starts->len && refs->len < LOOK_AT; i++)
    {
      TptFrameRef ref = tpt_frame_list_get_ref (self->list, get_start (self, i));

      g_array_append_val (refs, ref);
    }
  return refs;
}

static void
looked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptNamingView) self = data;
  g_autoptr (GError) error = NULL;
  TptJob *job = tpt_project_get_job (result);
  guint from = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (job), "from"));
  GPtrArray *rows;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, &error))
    {
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        gtk_widget_activate_action (GTK_WIDGET (self), "win.complain", "s", error->message);
      return;
    }
  if (self->list == NULL)
    return;
  rows = tpt_job_frame_rows_get_rows (TPT_JOB_FRAME_ROWS (job));
  for (guint i = 0; i < rows->len; i++)
    {
      const TptFrameRow *row = rows->pdata[i];

      if (row->ref.trigger_id != 0 && !tpt_frame_row_is_decided (row) && tpt_naming_return_to (self, row->ref.trigger_id))
        return;
    }
  look_on (self, from + LOOK_AT);
}

static void
look_on (TptNamingView *self, guint from)
{
  g_autoptr (GArray) refs = list_refs (self, from);
  g_autoptr (TptJobFrameRows) job = NULL;

  if (refs->len == 0)
    {
      tell (self, _("Every trigger from here to the end of the list has been decided."));
      return;
    }
  job = tpt_job_frame_rows_new (&g_array_index (refs, TptFrameRef, 0), refs->len);
  g_object_set_data (G_OBJECT (job), "from", GUINT_TO_POINTER (from));
  tpt_project_run_async (self->project, TPT_JOB (job), self->cancellable, looked_cb, g_object_ref (self));
}

void
tpt_naming_next_undecided (TptNamingView *self)
{
  if (self->project != NULL && self->list != NULL)
    look_on (self, tpt_naming_get_index (self) + 1);
}
