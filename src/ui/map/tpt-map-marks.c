#include <math.h>
#include <string.h>

#include "tpt-map-marks-private.h"

G_DEFINE_FINAL_TYPE (TptMapMarks, tpt_map_marks, SHUMATE_TYPE_LAYER)

TptMapFrame
tpt_map_marks_get_frame (TptMapMarks *self)
{
  return tpt_map_frame_of (shumate_layer_get_viewport (SHUMATE_LAYER (self)), gtk_widget_get_width (GTK_WIDGET (self)),
                           gtk_widget_get_height (GTK_WIDGET (self)));
}

static void
tpt_map_marks_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);

  if (width > 0 && height > 0)
    tpt_map_marks_draw (TPT_MAP_MARKS (widget), snapshot, width, height);
}

static void
tpt_map_marks_system_setting_changed (GtkWidget *widget, GtkSystemSetting setting)
{
  tpt_map_sprites_forget (TPT_MAP_MARKS (widget)->sprites);
  GTK_WIDGET_CLASS (tpt_map_marks_parent_class)->system_setting_changed (widget, setting);
}

static void
tpt_map_marks_constructed (GObject *object)
{
  G_OBJECT_CLASS (tpt_map_marks_parent_class)->constructed (object);
  tpt_map_layer_follow (SHUMATE_LAYER (object));
}

static void
tpt_map_marks_finalize (GObject *object)
{
  TptMapMarks *self = TPT_MAP_MARKS (object);

  g_ptr_array_unref (self->marks);
  g_strfreev (self->chosen);
  g_array_unref (self->hidden);
  tpt_map_sprites_free (self->sprites);
  G_OBJECT_CLASS (tpt_map_marks_parent_class)->finalize (object);
}

static void
tpt_map_marks_class_init (TptMapMarksClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->constructed = tpt_map_marks_constructed;
  object_class->finalize = tpt_map_marks_finalize;
  widget_class->snapshot = tpt_map_marks_snapshot;
  widget_class->system_setting_changed = tpt_map_marks_system_setting_changed;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
tpt_map_marks_init (TptMapMarks *self)
{
  self->marks = g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_map_mark_free);
  self->sprites = tpt_map_sprites_new (GTK_WIDGET (self));
  self->selected = -1;
  self->cursor = -1;
  self->shrink = 1;
  self->hidden = g_array_new (FALSE, FALSE, sizeof (graphene_rect_t));
}

ShumateLayer *
tpt_map_marks_new (ShumateViewport *viewport)
{
  return g_object_new (TPT_TYPE_MAP_MARKS, "viewport", viewport, NULL);
}

void
tpt_map_marks_take (TptMapMarks *self, GPtrArray *marks)
{
  g_ptr_array_unref (self->marks);
  self->marks = marks;
  self->selected = -1;
  self->cursor = -1;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

guint
tpt_map_marks_get_n_marks (TptMapMarks *self)
{
  return self->marks->len;
}

const TptMapMark *
tpt_map_marks_get (TptMapMarks *self, guint position)
{
  return g_ptr_array_index (self->marks, position);
}

int
tpt_map_marks_find (TptMapMarks *self, const char *code)
{
  for (guint i = 0; code != NULL && i < self->marks->len; i++)
    if (g_strcmp0 (tpt_map_marks_get (self, i)->code, code) == 0)
      return (int) i;
  return -1;
}

void
tpt_map_marks_get_pixel (TptMapMarks *self, guint position, double *px, double *py)
{
  const TptMapMark *mark = tpt_map_marks_get (self, position);
  TptMapFrame frame = tpt_map_marks_get_frame (self);

  tpt_map_frame_place (&frame, mark->x, mark->y, px, py);
}

int
tpt_map_marks_find_near (TptMapMarks *self, double px, double py, double distance)
{
  TptMapFrame frame = tpt_map_marks_get_frame (self);
  double best = distance;
  int found = -1;

  for (guint i = 0; i < self->marks->len; i++)
    {
      const TptMapMark *mark = tpt_map_marks_get (self, i);
      double x, y, away;

      tpt_map_frame_place (&frame, mark->x, mark->y, &x, &y);
      away = hypot (x - px, y - py);
      if (away > best || (away == best && found >= 0))
        continue;
      best = away;
      found = (int) i;
    }
  return found;
}

void
tpt_map_marks_set_selected (TptMapMarks *self, int position)
{
  self->selected = position;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
tpt_map_marks_set_cursor (TptMapMarks *self, int position)
{
  self->cursor = position;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

int
tpt_map_marks_get_cursor (TptMapMarks *self)
{
  return self->cursor;
}

void
tpt_map_marks_set_chosen (TptMapMarks *self, const char *const *codes)
{
  GStrv before = self->chosen;

  self->chosen = codes != NULL && codes[0] != NULL ? g_strdupv ((char **) codes) : NULL;
  g_strfreev (before);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

guint
tpt_map_marks_get_n_chosen (TptMapMarks *self)
{
  return self->chosen != NULL ? g_strv_length (self->chosen) : 0;
}

gboolean
tpt_map_marks_is_chosen (TptMapMarks *self, guint position)
{
  const TptMapMark *mark = tpt_map_marks_get (self, position);

  return self->chosen != NULL && mark->code != NULL && g_strv_contains ((const char *const *) self->chosen, mark->code);
}

void
tpt_map_marks_set_largest (TptMapMarks *self, double diameter)
{
  double shrink = MIN (diameter / TPT_MAP_LARGEST_DISC, 1);

  if (shrink == self->shrink)
    return;
  self->shrink = shrink;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

double
tpt_map_marks_get_diameter (TptMapMarks *self, guint position)
{
  const TptMapMark *mark = tpt_map_marks_get (self, position);

  return mark->kind == TPT_MARK_SEEN ? MAX (mark->diameter * self->shrink, TPT_MAP_SMALLEST_DISC) : mark->diameter;
}

void
tpt_map_marks_set_hidden (TptMapMarks *self, GArray *places)
{
  gsize size = places->len * sizeof (graphene_rect_t);

  if (places->len == self->hidden->len && (size == 0 || memcmp (places->data, self->hidden->data, size) == 0))
    return;
  g_array_set_size (self->hidden, 0);
  g_array_append_vals (self->hidden, places->data, places->len);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
tpt_map_marks_set_box (TptMapMarks *self, const graphene_rect_t *box)
{
  self->has_box = box != NULL;
  if (box != NULL)
    self->box = *box;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

GStrv
tpt_map_marks_find_within (TptMapMarks *self, const graphene_rect_t *box)
{
  g_autoptr (GStrvBuilder) codes = g_strv_builder_new ();

  for (guint i = 0; i < self->marks->len; i++)
    {
      double px, py;

      tpt_map_marks_get_pixel (self, i, &px, &py);
      if (tpt_map_marks_get (self, i)->code != NULL &&
          graphene_rect_contains_point (box, &GRAPHENE_POINT_INIT ((float) px, (float) py)))
        g_strv_builder_add (codes, tpt_map_marks_get (self, i)->code);
    }
  return g_strv_builder_end (codes);
}

void
tpt_map_marks_set_cross (TptMapMarks *self, gboolean cross)
{
  self->cross = cross;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

gboolean
tpt_map_marks_get_box (TptMapMarks *self, double *left, double *top, double *right, double *bottom)
{
  *left = *top = G_MAXDOUBLE;
  *right = *bottom = -G_MAXDOUBLE;
  for (guint i = 0; i < self->marks->len; i++)
    {
      const TptMapMark *mark = tpt_map_marks_get (self, i);

      *left = MIN (*left, mark->x);
      *top = MIN (*top, mark->y);
      *right = MAX (*right, mark->x);
      *bottom = MAX (*bottom, mark->y);
    }
  return self->marks->len > 0;
}
