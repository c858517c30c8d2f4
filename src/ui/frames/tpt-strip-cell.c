#include "config.h"

#include "tpt-strip-cell.h"

#include <glib/gi18n-lib.h>

#include "tpt-light.h"

struct _TptStripCell {
  GtkButton parent_instance;

  GtkPicture *image;
  GtkLabel *number;
  GtkLabel *mark;

  char *key;                 /* (owned) (nullable): of the picture that shows or is waited for */
  TptPicture *picture;       /* (owned) (nullable) */
  GCancellable *cancellable; /* (owned) (nullable) */
  int place;
  double lift;
};

G_DEFINE_FINAL_TYPE (TptStripCell, tpt_strip_cell, GTK_TYPE_BUTTON)

static void
stop (TptStripCell *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
draw (TptStripCell *self)
{
  g_autoptr (GdkTexture) texture =
    self->picture != NULL ? tpt_light_make_texture (self->picture, NULL, self->lift) : NULL;

  gtk_picture_set_paintable (self->image, GDK_PAINTABLE (texture));
}

static void
loaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptStripCell) self = data;
  g_autoptr (GError) error = NULL;
  TptPicture *picture = tpt_previews_load_finish (TPT_PREVIEWS (source), result, &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  if (g_task_get_cancellable (G_TASK (result)) != self->cancellable)
    {
      g_clear_pointer (&picture, tpt_picture_unref);
      return;
    }
  g_clear_object (&self->cancellable);
  self->picture = picture; /* none: the ground with the number, the large view says why */
  draw (self);
}

static void
load (TptStripCell *self, const TptFrameRow *row)
{
  TptPreviews *previews = tpt_previews_get_default ();

  stop (self);
  g_clear_pointer (&self->picture, tpt_picture_unref);
  self->picture = tpt_previews_peek (previews, row->path, self->key, TPT_PREVIEW_SMALL);
  draw (self);
  if (self->picture != NULL || tpt_frame_row_is_clip (row))
    return;
  self->cancellable = g_cancellable_new ();
  tpt_previews_load_async (previews, row->path, self->key, TPT_PREVIEW_SMALL, self->cancellable, loaded_cb,
                           g_object_ref (self));
}

static void
tpt_strip_cell_dispose (GObject *object)
{
  stop (TPT_STRIP_CELL (object));

  G_OBJECT_CLASS (tpt_strip_cell_parent_class)->dispose (object);
}

static void
tpt_strip_cell_finalize (GObject *object)
{
  TptStripCell *self = TPT_STRIP_CELL (object);

  g_free (self->key);
  g_clear_pointer (&self->picture, tpt_picture_unref);

  G_OBJECT_CLASS (tpt_strip_cell_parent_class)->finalize (object);
}

static void
tpt_strip_cell_class_init (TptStripCellClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_strip_cell_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_strip_cell_finalize;
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "strip-cell");
}

static GtkLabel *
add_corner (GtkOverlay *overlay, GtkAlign halign)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_widget_set_halign (label, halign);
  gtk_widget_set_valign (label, GTK_ALIGN_END);
  gtk_widget_add_css_class (label, "strip-number");
  gtk_overlay_add_overlay (overlay, label);
  return GTK_LABEL (label);
}

static void
tpt_strip_cell_init (TptStripCell *self)
{
  GtkOverlay *overlay = GTK_OVERLAY (gtk_overlay_new ());

  self->image = GTK_PICTURE (gtk_picture_new ());
  gtk_widget_set_size_request (GTK_WIDGET (self->image), 80, 60);
  gtk_overlay_set_child (overlay, GTK_WIDGET (self->image));
  self->number = add_corner (overlay, GTK_ALIGN_START);
  self->mark = add_corner (overlay, GTK_ALIGN_END);
  gtk_label_set_label (self->mark, "★");
  gtk_button_set_child (GTK_BUTTON (self), GTK_WIDGET (overlay));
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_widget_set_focus_on_click (GTK_WIDGET (self), FALSE);
}

TptStripCell *
tpt_strip_cell_new (void)
{
  return g_object_new (TPT_TYPE_STRIP_CELL, NULL);
}

static void
tell (TptStripCell *self, const TptFrameRow *row, int n, gboolean chosen)
{
  g_autofree char *number = g_strdup_printf ("%d", self->place + 1);
  g_autofree char *frame = g_strdup_printf (_("Frame %1$d of %2$d"), self->place + 1, n);
  g_autofree char *label = row->marked ? g_strdup_printf (_("%s, good for guests"), frame) : g_strdup (frame);

  gtk_label_set_label (self->number, number);
  gtk_widget_set_visible (GTK_WIDGET (self->mark), row->marked);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self), label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_PRESSED,
                               chosen ? GTK_ACCESSIBLE_TRISTATE_TRUE : GTK_ACCESSIBLE_TRISTATE_FALSE, -1);
}

void
tpt_strip_cell_show (TptStripCell *self, const TptFrameRow *row, int place, int n, gboolean chosen, double lift)
{
  const char *key = tpt_frame_row_get_key (row);
  gboolean lifted = lift != self->lift;

  self->place = place;
  self->lift = lift;
  tell (self, row, n, chosen);
  if (chosen)
    gtk_widget_add_css_class (GTK_WIDGET (self), "chosen");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), "chosen");
  if (g_strcmp0 (key, self->key) != 0)
    {
      g_free (self->key);
      self->key = g_strdup (key);
      load (self, row);
    }
  else if (lifted)
    draw (self);
}

int
tpt_strip_cell_get_place (TptStripCell *self)
{
  return self->place;
}

void
tpt_strip_cell_clear (TptStripCell *self)
{
  stop (self);
  g_clear_pointer (&self->key, g_free);
  g_clear_pointer (&self->picture, tpt_picture_unref);
  gtk_picture_set_paintable (self->image, NULL);
}
