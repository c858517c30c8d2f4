/* The pictures of the naming view: the one on screen at once as far as there is
 * one, and those that come next. */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-error.h"
#include "tpt-light.h"
#include "tpt-naming-private.h"
#include "tpt-settings.h"

#define AHEAD_TRIGGERS 3
#define AHEAD_PICTURES 12
#define LEAST_SIZE 256  /* before the view has a size of its own */
#define RESIZED_MS 250  /* after the last step of a resize */

static void
stop (GCancellable **cancellable)
{
  if (*cancellable != NULL)
    g_cancellable_cancel (*cancellable);
  g_clear_object (cancellable);
}

/* --- brightness -------------------------------------------------------------- */

static void
set_lift (TptNamingView *self, double lift)
{
  self->setting_lift = TRUE;
  gtk_adjustment_set_value (self->lift_amount, lift);
  self->setting_lift = FALSE;
  tpt_frame_view_set_lift (self->view, lift);
}

/* What the slider says holds for the trigger it was moved on. */
static void
judge_lift (TptNamingView *self, TptPicture *picture)
{
  if (!self->lift_by_hand)
    set_lift (self, tpt_settings_get_flag ("lift-dark") ? tpt_light_suggest (tpt_light_measure (picture)) : 0);
}

static void
show_strip_lift (TptNamingView *self)
{
  tpt_frame_strip_show (self->strip, self->rows, self->chosen, tpt_frame_view_get_lift (self->view));
}

void
tpt_naming_apply_lift (TptNamingView *self)
{
  if (self->setting_lift)
    return;
  self->lift_by_hand = TRUE;
  tpt_frame_view_set_lift (self->view, gtk_adjustment_get_value (self->lift_amount));
  show_strip_lift (self);
}

void
tpt_naming_step_lift (TptNamingView *self, double by)
{
  gtk_adjustment_set_value (self->lift_amount, gtk_adjustment_get_value (self->lift_amount) + by);
}

void
tpt_naming_set_lift_dark (TptNamingView *self, gboolean on)
{
  tpt_settings_set_flag ("lift-dark", on);
  tpt_key_button_set_held (self->lift, on);
  self->lift_by_hand = FALSE;
  if (self->rows != NULL)
    {
      g_clear_pointer (&self->key, g_free);
      tpt_naming_show_picture (self);
      show_strip_lift (self);
    }
}

/* --- the picture on screen ------------------------------------------------------- */

static void
show_words (TptNamingView *self, const char *words)
{
  gtk_label_set_label (self->words, words != NULL ? words : "");
  gtk_widget_set_visible (GTK_WIDGET (self->words), words != NULL);
}

/* A picture that could not be shown, in words with the file's name. */
static void
show_failure (TptNamingView *self, const TptFrameRow *row, const GError *error)
{
  g_autofree char *name = g_path_get_basename (row->path);
  g_autofree char *shown = g_filename_display_name (name);
  g_autofree char *text =
    tpt_frame_row_is_clip (row) ? g_strdup_printf (_("%s is a clip. It is counted but not shown."), shown)
    : g_error_matches (error, TPT_ERROR, TPT_ERROR_IO)
      ? g_strdup_printf (_("The picture %1$s is not there, or cannot be read.\n%2$s"), shown, error->message)
      : g_strdup_printf (_("The picture %1$s cannot be shown.\n%2$s"), shown, error->message);

  show_words (self, text);
}

/* What the card's reading found wrong has been told; a file can go bad later. */
static void
tell_partial (TptNamingView *self)
{
  if (gtk_widget_get_visible (GTK_WIDGET (self->damage)))
    return;
  gtk_label_set_label (self->damage, _("Damaged: part of the picture could not be read and is grey"));
  gtk_widget_set_visible (GTK_WIDGET (self->damage), TRUE);
}

static void
show_large (TptNamingView *self, TptPicture *picture)
{
  self->partial = picture->partial;
  if (self->partial)
    tell_partial (self);
  judge_lift (self, picture);
  tpt_frame_view_set_picture (self->view, picture);
  show_words (self, NULL);
}

static void
loaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptNamingView) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (TptPicture) picture = tpt_previews_load_finish (TPT_PREVIEWS (source), result, &error);
  const TptFrameRow *row = tpt_naming_get_row (self);

  if (g_task_get_cancellable (G_TASK (result)) != self->loading || row == NULL)
    return;
  g_clear_object (&self->loading);
  if (picture != NULL)
    show_large (self, picture);
  else
    {
      tpt_naming_clear_picture (self);
      self->key = g_strdup (tpt_frame_row_get_key (row));
      show_failure (self, row, error);
    }
}

static void
load (TptNamingView *self, const TptFrameRow *row)
{
  self->loading = g_cancellable_new ();
  tpt_previews_load_async (tpt_previews_get_default (), row->path, tpt_frame_row_get_key (row), self->size, self->loading,
                           loaded_cb, g_object_ref (self));
}

/* Never another frame's picture under this frame's facts: what is not there at
 * once leaves the ground empty. */
static void
show_new (TptNamingView *self, const TptFrameRow *row)
{
  TptPreviews *previews = tpt_previews_get_default ();
  g_autoptr (TptPicture) large = tpt_previews_peek (previews, row->path, tpt_frame_row_get_key (row), self->size);
  g_autoptr (TptPicture) small = NULL;

  if (large != NULL)
    {
      show_large (self, large);
      return;
    }
  small = tpt_previews_peek (previews, row->path, tpt_frame_row_get_key (row), TPT_PREVIEW_SMALL);
  if (small != NULL)
    show_large (self, small);
  load (self, row);
}

void
tpt_naming_clear_picture (TptNamingView *self)
{
  stop (&self->loading);
  stop (&self->loading_whole);
  g_clear_pointer (&self->key, g_free);
  self->partial = FALSE;
  tpt_frame_view_set_picture (self->view, NULL);
  show_words (self, NULL);
}

static void
choose_size (TptNamingView *self)
{
  self->size = MAX (tpt_frame_view_get_fit (self->view), LEAST_SIZE);
}

void
tpt_naming_show_picture (TptNamingView *self)
{
  const TptFrameRow *row = tpt_naming_get_row (self);

  if (row == NULL)
    {
      tpt_naming_clear_picture (self);
      return;
    }
  if (g_strcmp0 (self->key, tpt_frame_row_get_key (row)) == 0)
    {
      if (self->partial)
        tell_partial (self);
      return;
    }
  tpt_naming_clear_picture (self);
  self->key = g_strdup (tpt_frame_row_get_key (row));
  choose_size (self);
  if (tpt_frame_row_is_clip (row))
    show_failure (self, row, NULL);
  else
    show_new (self, row);
  if (!tpt_frame_row_is_clip (row) && tpt_frame_view_get_zoom (self->view) > 0)
    tpt_naming_load_whole (self);
}

/* --- all of its pixels ------------------------------------------------------------ */

static void
loaded_whole_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptNamingView) self = data;
  g_autoptr (TptPicture) picture = tpt_previews_load_finish (TPT_PREVIEWS (source), result, NULL);

  if (g_task_get_cancellable (G_TASK (result)) != self->loading_whole)
    return;
  g_clear_object (&self->loading_whole);
  if (picture != NULL) /* otherwise the smaller one stays, and has told what is wrong */
    tpt_frame_view_set_whole (self->view, picture);
}

void
tpt_naming_load_whole (TptNamingView *self)
{
  const TptFrameRow *row = tpt_naming_get_row (self);

  if (row == NULL || tpt_frame_row_is_clip (row) || self->loading_whole != NULL)
    return;
  self->loading_whole = g_cancellable_new ();
  tpt_previews_load_async (tpt_previews_get_default (), row->path, tpt_frame_row_get_key (row), 0, self->loading_whole,
                           loaded_whole_cb, g_object_ref (self));
}

/* --- ahead ------------------------------------------------------------------------- */

typedef struct {
  const char *paths[AHEAD_PICTURES];
  const char *keys[AHEAD_PICTURES];
  guint n;
} Ahead;

static void
add_rows (Ahead *ahead, GPtrArray *rows, guint from, guint to)
{
  for (guint i = from; rows != NULL && i < MIN (to, rows->len) && ahead->n < AHEAD_PICTURES; i++)
    {
      const TptFrameRow *row = rows->pdata[i];

      if (tpt_frame_row_is_clip (row))
        continue;
      ahead->paths[ahead->n] = row->path;
      ahead->keys[ahead->n++] = tpt_frame_row_get_key (row);
    }
}

static GPtrArray *
get_later (TptNamingView *self, guint triggers)
{
  guint index = tpt_naming_get_index (self) + triggers;

  if (index >= self->starts->len)
    return NULL;
  return tpt_trigger_reader_get (self->reader, tpt_frame_list_get_ref (self->list, g_array_index (self->starts, guint, index)));
}

/* A decision leads to the next trigger's first frame: that comes first; then
 * the frames beside the one on screen, then what else comes. */
void
tpt_naming_look_ahead (TptNamingView *self)
{
  Ahead ahead = { 0 };

  if (self->reader == NULL || self->list == NULL || self->size == 0)
    return;
  add_rows (&ahead, get_later (self, 1), 0, 1);
  add_rows (&ahead, self->rows, self->chosen + 1, self->chosen + 3);
  for (guint i = 2; i <= AHEAD_TRIGGERS; i++)
    add_rows (&ahead, get_later (self, i), 0, 1);
  add_rows (&ahead, get_later (self, 1), 1, G_MAXUINT);
  tpt_previews_ahead (tpt_previews_get_default (), ahead.paths, ahead.keys, ahead.n, self->size);
}

/* --- another size -------------------------------------------------------------------- */

static gboolean
resize_cb (gpointer data)
{
  TptNamingView *self = data;
  const TptFrameRow *row = tpt_naming_get_row (self);
  int before = self->size;

  self->resize_source = 0;
  choose_size (self);
  if (row != NULL && self->size != before && !tpt_frame_row_is_clip (row) && self->loading == NULL)
    load (self, row);
  tpt_naming_look_ahead (self);
  return G_SOURCE_REMOVE;
}

/* The picture that is there is stretched until the window has come to rest. */
void
tpt_naming_resized (TptNamingView *self)
{
  g_clear_handle_id (&self->resize_source, g_source_remove);
  self->resize_source = g_timeout_add (RESIZED_MS, resize_cb, self);
}
