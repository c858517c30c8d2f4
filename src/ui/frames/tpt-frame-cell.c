#include "config.h"

#include "tpt-frame-cell.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-error.h"
#include "tpt-frame-words.h"
#include "tpt-light.h"

#define WIDTH 176   /* of the picture; cells are as wide as their column */
#define HEIGHT 132
#define GAP 4
#define BADGE_PAD 4

struct _TptFrameCell {
  GtkWidget parent_instance;

  TptFrameItem *item;        /* (owned) (nullable) */
  TptZone *zone;             /* (not owned): the project's, which outlives the grid's list */
  guint position;
  gboolean wanted;

  char *key;                 /* (owned) (nullable): of the picture that shows or is waited for */
  GdkTexture *texture;       /* (owned) (nullable) */
  GCancellable *cancellable; /* (owned) (nullable) */
  char *instead;             /* (owned) (nullable): words where no picture is */
  char *time;                /* (owned) (nullable) */
  char *words;               /* (owned) (nullable) */
  char *text;                /* (owned) (nullable) */
  char *station;             /* (owned) (nullable) */
  char *moment;              /* (owned) (nullable): the time in short, for beside the station */
  gboolean station_shown;
  gboolean decided;
};

G_DEFINE_FINAL_TYPE (TptFrameCell, tpt_frame_cell, GTK_TYPE_WIDGET)

/* --- the picture ------------------------------------------------------------ */

static void
stop (TptFrameCell *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
set_instead (TptFrameCell *self, const char *words)
{
  g_free (self->instead);
  self->instead = g_strdup (words);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
set_picture (TptFrameCell *self, TptPicture *picture)
{
  g_clear_object (&self->texture);
  self->texture = tpt_light_make_texture (picture, NULL, 0);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
loaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptFrameCell) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (TptPicture) picture = tpt_previews_load_finish (TPT_PREVIEWS (source), result, &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) ||
      g_task_get_cancellable (G_TASK (result)) != self->cancellable)
    return;
  g_clear_object (&self->cancellable);
  if (picture != NULL)
    set_picture (self, picture);
  else
    set_instead (self, g_error_matches (error, TPT_ERROR, TPT_ERROR_IO) ? _("The picture is not there")
                                                                        : _("The picture cannot be read"));
}

static void
load (TptFrameCell *self)
{
  const TptFrameRow *row = self->item != NULL ? tpt_frame_item_get_row (self->item) : NULL;
  TptPreviews *previews = tpt_previews_get_default ();
  g_autoptr (TptPicture) picture = NULL;

  if (row == NULL || self->texture != NULL || self->cancellable != NULL || self->instead != NULL)
    return;
  picture = tpt_previews_peek (previews, row->path, self->key, TPT_PREVIEW_SMALL);
  if (picture != NULL)
    {
      set_picture (self, picture);
      return;
    }
  self->cancellable = g_cancellable_new ();
  tpt_previews_load_async (previews, row->path, self->key, TPT_PREVIEW_SMALL, self->cancellable, loaded_cb,
                           g_object_ref (self));
}

/* --- what is known of it ------------------------------------------------------ */

static void
add_line (GString *text, const char *line)
{
  if (line == NULL)
    return;
  g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", line);
}

static char *
word_frames (const TptFrameRow *row)
{
  return row->n_frames > 1
           ? g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d frame", "%d frames", (gulong) row->n_frames),
                              row->n_frames)
           : NULL;
}

/* (transfer full): every badge in words, a line each. */
static char *
tell_all (TptFrameCell *self, const TptFrameRow *row)
{
  GString *text = g_string_new (NULL);
  g_autofree char *head = g_strdup_printf (_("%1$s, %2$s"), row->station_title, self->time);
  g_autofree char *frames = word_frames (row);
  g_autofree char *score = tpt_frame_words_score (row->blank_score);
  g_autofree char *damage = row->damage != NULL ? g_strdup_printf (_("Damaged: %s"), row->damage) : NULL;

  add_line (text, head);
  add_line (text, self->words);
  add_line (text, frames);
  add_line (text, score);
  add_line (text, row->marked ? _("good for guests") : NULL);
  add_line (text, row->disagreement ? _("opinions differ") : NULL);
  add_line (text, tpt_frame_row_is_clip (row) ? _("clip") : NULL);
  add_line (text, damage);
  return g_string_free (text, FALSE);
}

/* The list's own widget around the cell is what takes the focus and is read out. */
static void
tell_list (TptFrameCell *self)
{
  GtkWidget *around = gtk_widget_get_parent (GTK_WIDGET (self));
  g_auto (GStrv) parts = g_strsplit (self->text != NULL ? self->text : _("Reading…"), "\n", -1);
  g_autofree char *line = g_strjoinv ("; ", parts);

  gtk_widget_set_tooltip_text (GTK_WIDGET (self), self->text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, line, -1);
  if (around != NULL)
    gtk_accessible_update_property (GTK_ACCESSIBLE (around), GTK_ACCESSIBLE_PROPERTY_LABEL, line, -1);
}

static void
forget_picture (TptFrameCell *self)
{
  stop (self);
  g_clear_object (&self->texture);
  g_clear_pointer (&self->instead, g_free);
  g_clear_pointer (&self->key, g_free);
}

static void
take_key (TptFrameCell *self, const TptFrameRow *row)
{
  const char *key = tpt_frame_row_get_key (row);

  if (g_strcmp0 (key, self->key) == 0)
    return;
  forget_picture (self);
  self->key = g_strdup (key);
  if (tpt_frame_row_is_clip (row))
    set_instead (self, _("Clip: no picture"));
}

static void
forget_words (TptFrameCell *self)
{
  g_clear_pointer (&self->time, g_free);
  g_clear_pointer (&self->station, g_free);
  g_clear_pointer (&self->moment, g_free);
  g_clear_pointer (&self->words, g_free);
  g_clear_pointer (&self->text, g_free);
}

static void
show_row (TptFrameCell *self)
{
  const TptFrameRow *row = self->item != NULL ? tpt_frame_item_get_row (self->item) : NULL;

  forget_words (self);
  if (row != NULL)
    {
      self->time = tpt_frame_words_time (row, self->zone);
      self->moment = tpt_frame_words_short_time (row, self->zone);
      self->station = g_strdup_printf (_("%s,"), row->station_title);
      self->words = tpt_frame_row_describe (row);
      self->decided = tpt_frame_row_is_decided (row);
      self->text = tell_all (self, row);
      take_key (self, row);
      if (self->wanted)
        load (self);
    }
  tell_list (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* --- drawing --------------------------------------------------------------------- */

static PangoLayout *
make_line (TptFrameCell *self, const char *text, int width, gboolean strong)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), text);

  if (strong)
    {
      PangoAttrList *attributes = pango_attr_list_new ();

      pango_attr_list_insert (attributes, pango_attr_weight_new (PANGO_WEIGHT_BOLD));
      pango_layout_set_attributes (layout, attributes);
      pango_attr_list_unref (attributes);
    }
  pango_layout_set_width (layout, width * PANGO_SCALE);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  return layout;
}

static void
draw_layout (GtkSnapshot *snapshot, PangoLayout *layout, double x, double y, const GdkRGBA *color)
{
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT ((float) x, (float) y));
  gtk_snapshot_append_layout (snapshot, layout, color);
  gtk_snapshot_restore (snapshot);
}

static const GdkRGBA ground = { 0.071f, 0.086f, 0.082f, 1 }; /* as .picture-ground */
static const GdkRGBA badge_ground = { 0.071f, 0.086f, 0.082f, 0.82f };
static const GdkRGBA on_ground = { 0.933f, 0.949f, 0.941f, 1 };

static void
draw_picture (TptFrameCell *self, GtkSnapshot *snapshot, int width)
{
  double w, h, scale;

  gtk_snapshot_append_color (snapshot, &ground, &GRAPHENE_RECT_INIT (0, 0, (float) width, HEIGHT));
  if (self->texture == NULL)
    return;
  w = gdk_texture_get_width (self->texture);
  h = gdk_texture_get_height (self->texture);
  scale = MIN (width / w, HEIGHT / h);
  w *= scale;
  h *= scale;
  gtk_snapshot_append_texture (snapshot, self->texture,
                               &GRAPHENE_RECT_INIT ((float) ((width - w) / 2), (float) ((HEIGHT - h) / 2), (float) w,
                                                    (float) h));
}

static void
draw_instead (TptFrameCell *self, GtkSnapshot *snapshot, int width)
{
  g_autoptr (PangoLayout) layout = NULL;
  int height;

  if (self->texture != NULL || self->instead == NULL)
    return;
  layout = make_line (self, self->instead, width - 4 * GAP, FALSE);
  pango_layout_set_alignment (layout, PANGO_ALIGN_CENTER);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_NONE);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_get_pixel_size (layout, NULL, &height);
  draw_layout (snapshot, layout, 2 * GAP, (HEIGHT - height) / 2.0, &on_ground);
}

/* Returns the height it took. @right, @low: to which corner it goes. */
static int
draw_badge (TptFrameCell *self, GtkSnapshot *snapshot, const char *text, int width, gboolean right, double y)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), text);
  int w, h;
  double x;

  pango_layout_get_pixel_size (layout, &w, &h);
  x = right ? width - w - 2 * BADGE_PAD - GAP : GAP;
  gtk_snapshot_append_color (snapshot, &badge_ground,
                             &GRAPHENE_RECT_INIT ((float) x, (float) y, (float) (w + 2 * BADGE_PAD), (float) h));
  draw_layout (snapshot, layout, x + BADGE_PAD, y, &on_ground);
  return h + 2;
}

static void
draw_badges (TptFrameCell *self, GtkSnapshot *snapshot, const TptFrameRow *row, int width)
{
  g_autofree char *frames = row->n_frames > 1 ? g_strdup_printf ("×%d", row->n_frames) : NULL;
  g_autofree char *empty =
    row->blank_score >= TPT_PROBABLY_EMPTY ? g_strdup_printf (_("empty? %.2f"), row->blank_score) : NULL;
  double y = GAP;

  if (frames != NULL)
    draw_badge (self, snapshot, frames, width, FALSE, GAP);
  if (row->marked)
    y += draw_badge (self, snapshot, _("★ guests"), width, TRUE, y);
  if (row->disagreement)
    y += draw_badge (self, snapshot, _("≠ opinions"), width, TRUE, y);
  if (row->damage != NULL)
    draw_badge (self, snapshot, _("! damaged"), width, TRUE, y);
  if (empty != NULL)
    draw_badge (self, snapshot, empty, width, FALSE, HEIGHT - 24);
}

/* A long name of a station is cut short rather than the time behind it. */
static void
draw_place (TptFrameCell *self, GtkSnapshot *snapshot, int width, int y, const GdkRGBA *color)
{
  g_autoptr (PangoLayout) moment = make_line (self, self->moment, width, FALSE);
  g_autoptr (PangoLayout) station = NULL;
  int taken, used;

  pango_layout_get_pixel_size (moment, &taken, NULL);
  station = make_line (self, self->station, MAX (width - taken - GAP, 0), FALSE);
  pango_layout_get_pixel_size (station, &used, NULL);
  draw_layout (snapshot, station, 0, y, color);
  draw_layout (snapshot, moment, used + GAP, y, color);
}

static void
draw_words (TptFrameCell *self, GtkSnapshot *snapshot, int width)
{
  g_autoptr (PangoLayout) what = make_line (self, self->words != NULL ? self->words : "…", width, self->decided);
  g_autoptr (PangoLayout) when = make_line (self, self->time != NULL ? self->time : "", width, FALSE);
  GtkStyleContext *style = gtk_widget_get_style_context (GTK_WIDGET (self));
  GdkRGBA color, quiet;
  int height;

  gtk_style_context_get_color (style, &color);
  if (!gtk_style_context_lookup_color (style, "tpt_quiet", &quiet))
    quiet = color;
  pango_layout_get_pixel_size (what, NULL, &height);
  draw_layout (snapshot, what, 0, HEIGHT + GAP, self->decided ? &color : &quiet);
  if (self->station_shown && self->station != NULL)
    draw_place (self, snapshot, width, HEIGHT + GAP + height, &quiet);
  else
    draw_layout (snapshot, when, 0, HEIGHT + GAP + height, &quiet);
}

static void
tpt_frame_cell_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TptFrameCell *self = TPT_FRAME_CELL (widget);
  const TptFrameRow *row = self->item != NULL ? tpt_frame_item_get_row (self->item) : NULL;
  int width = gtk_widget_get_width (widget);

  draw_picture (self, snapshot, width);
  draw_instead (self, snapshot, width);
  if (row != NULL)
    draw_badges (self, snapshot, row, width);
  draw_words (self, snapshot, width);
}

static void
tpt_frame_cell_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                        int *minimum_baseline, int *natural_baseline)
{
  g_autoptr (PangoLayout) line = NULL;
  int height;

  *minimum = *natural = WIDTH;
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    return;
  line = gtk_widget_create_pango_layout (widget, "Xg\nXg");
  pango_layout_get_pixel_size (line, NULL, &height);
  *minimum = *natural = HEIGHT + GAP + height;
}

/* --- the object --------------------------------------------------------------------- */

static void
tpt_frame_cell_dispose (GObject *object)
{
  tpt_frame_cell_unbind (TPT_FRAME_CELL (object));

  G_OBJECT_CLASS (tpt_frame_cell_parent_class)->dispose (object);
}

static void
tpt_frame_cell_class_init (TptFrameCellClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_frame_cell_dispose;
  widget_class->snapshot = tpt_frame_cell_snapshot;
  widget_class->measure = tpt_frame_cell_measure;
  gtk_widget_class_set_css_name (widget_class, "frame-cell");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
tpt_frame_cell_init (TptFrameCell *self)
{
  self->position = GTK_INVALID_LIST_POSITION;
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
}

TptFrameCell *
tpt_frame_cell_new (void)
{
  return g_object_new (TPT_TYPE_FRAME_CELL, NULL);
}

void
tpt_frame_cell_bind (TptFrameCell *self, TptFrameItem *item, guint position, TptZone *zone)
{
  tpt_frame_cell_unbind (self);
  self->item = g_object_ref (item);
  self->zone = zone;
  self->position = position;
  g_signal_connect_swapped (item, "changed", G_CALLBACK (show_row), self);
  show_row (self);
}

void
tpt_frame_cell_set_station_shown (TptFrameCell *self, gboolean shown)
{
  if (self->station_shown == shown)
    return;
  self->station_shown = shown;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
tpt_frame_cell_unbind (TptFrameCell *self)
{
  self->wanted = FALSE;
  self->position = GTK_INVALID_LIST_POSITION;
  forget_picture (self);
  forget_words (self);
  if (self->item != NULL)
    g_signal_handlers_disconnect_by_data (self->item, self);
  g_clear_object (&self->item);
}

void
tpt_frame_cell_set_wanted (TptFrameCell *self, gboolean wanted)
{
  if (self->wanted == wanted)
    return;
  self->wanted = wanted;
  if (wanted)
    load (self);
  else
    stop (self);
}

guint
tpt_frame_cell_get_position (TptFrameCell *self)
{
  return self->position;
}

const char *
tpt_frame_cell_get_text (TptFrameCell *self)
{
  return self->text;
}
