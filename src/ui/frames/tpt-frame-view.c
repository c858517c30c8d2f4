#include "config.h"

#include "tpt-frame-view.h"

#include <math.h>

#include "tpt-light.h"

#define TILE 512
#define KEEP_TILES 48
#define MOST_ZOOM 2
#define CLOSE_ENOUGH 0.93 /* of the size asked for */

struct _TptFrameView {
  GtkWidget parent_instance;

  TptPicture *picture; /* (owned) (nullable) */
  TptPicture *whole;   /* (owned) (nullable) */
  GdkTexture *texture; /* (owned) (nullable): of the picture */
  GHashTable *tiles;   /* (owned) (element-type int GdkTexture): of the whole, as far as seen */
  double lift;
  double aspect;       /* width by height of the picture shown last */
  int width, height;   /* as allocated last */
  int zoom;
  double x, y;         /* what of the picture is in the middle, 0 to 1 */
  double start_x, start_y; /* the same as a drag began */
};

G_DEFINE_FINAL_TYPE (TptFrameView, tpt_frame_view, GTK_TYPE_WIDGET)

enum {
  PROP_0,
  PROP_ZOOM,
  N_PROPS,
};

enum {
  SIGNAL_WHOLE_WANTED,
  SIGNAL_RESIZED,
  N_SIGNALS,
};

static GParamSpec *properties[N_PROPS];
static guint signals[N_SIGNALS];

static void
drop_textures (TptFrameView *self)
{
  g_clear_object (&self->texture);
  g_hash_table_remove_all (self->tiles);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* --- where the picture lies ------------------------------------------------- */

/* In the picture's own pixels, also while only a smaller one is there. */
static void
get_full_size (TptFrameView *self, double *width, double *height)
{
  TptPicture *known = self->whole != NULL ? self->whole : self->picture;

  *width = self->whole == NULL && known->full_width > 0 ? known->full_width : known->width;
  *height = self->whole == NULL && known->full_height > 0 ? known->full_height : known->height;
}

static double
find_start (double view, double shown, double middle)
{
  if (shown <= view)
    return (view - shown) / 2;
  return CLAMP (view / 2 - middle * shown, view - shown, 0);
}

/* In the widget's units; on whole device pixels, so that a picture of just the
 * right size is not resampled. */
static graphene_rect_t
find_place (TptFrameView *self)
{
  int scale = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  double view_width = gtk_widget_get_width (GTK_WIDGET (self)) * scale;
  double view_height = gtk_widget_get_height (GTK_WIDGET (self)) * scale;
  double width, height, factor = self->zoom;
  graphene_rect_t place;

  get_full_size (self, &width, &height);
  if (self->zoom == 0)
    factor = MIN (view_width / width, view_height / height);
  width = MAX (1, round (width * factor));
  height = MAX (1, round (height * factor));
  graphene_rect_init (&place, (float) (floor (find_start (view_width, width, self->x)) / scale),
                      (float) (floor (find_start (view_height, height, self->y)) / scale), (float) (width / scale),
                      (float) (height / scale));
  return place;
}

/* Pictures come a little smaller than they were asked for; drawn as they are
 * they stay sharp, and are drawn in no time. */
static void
settle_place (TptFrameView *self, graphene_rect_t *place)
{
  int scale = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  double width = (double) gdk_texture_get_width (self->texture) / scale;
  double height = (double) gdk_texture_get_height (self->texture) / scale;

  if (self->zoom != 0 || width > place->size.width + 2 || width < place->size.width * CLOSE_ENOUGH)
    return;
  place->origin.x += (float) (floor ((place->size.width - width) * scale / 2) / scale);
  place->origin.y += (float) (floor ((place->size.height - height) * scale / 2) / scale);
  place->size = GRAPHENE_SIZE_INIT ((float) width, (float) height);
}

/* --- drawing ---------------------------------------------------------------- */

static GdkTexture *
get_tile (TptFrameView *self, int column, int row)
{
  cairo_rectangle_int_t part = { column * TILE, row * TILE, 0, 0 };
  int key = row * 4096 + column;
  GdkTexture *tile = g_hash_table_lookup (self->tiles, GINT_TO_POINTER (key));

  if (tile != NULL)
    return tile;
  if (g_hash_table_size (self->tiles) >= KEEP_TILES)
    g_hash_table_remove_all (self->tiles);
  part.width = MIN (TILE, self->whole->width - part.x);
  part.height = MIN (TILE, self->whole->height - part.y);
  tile = tpt_light_make_texture (self->whole, &part, self->lift);
  g_hash_table_insert (self->tiles, GINT_TO_POINTER (key), tile);
  return tile;
}

/* The tiles from @from to before @to, of a side of @length pixels, that show
 * between 0 and @view. */
static void
find_tiles (double start, double unit, double view, int length, int *from, int *to)
{
  *from = MAX (0, (int) floor (-start / unit / TILE));
  *to = MIN ((length + TILE - 1) / TILE, (int) ceil ((view - start) / unit / TILE));
}

static void
draw_tiles (TptFrameView *self, GtkSnapshot *snapshot, const graphene_rect_t *place)
{
  double unit = place->size.width / self->whole->width;
  int left, right, top, bottom;

  find_tiles (place->origin.x, unit, gtk_widget_get_width (GTK_WIDGET (self)), self->whole->width, &left, &right);
  find_tiles (place->origin.y, unit, gtk_widget_get_height (GTK_WIDGET (self)), self->whole->height, &top, &bottom);
  for (int row = top; row < bottom; row++)
    for (int column = left; column < right; column++)
      {
        GdkTexture *tile = get_tile (self, column, row);

        gtk_snapshot_append_texture (snapshot, tile,
                                     &GRAPHENE_RECT_INIT ((float) (place->origin.x + column * TILE * unit),
                                                          (float) (place->origin.y + row * TILE * unit),
                                                          (float) (gdk_texture_get_width (tile) * unit),
                                                          (float) (gdk_texture_get_height (tile) * unit)));
      }
}

static void
draw_picture (TptFrameView *self, GtkSnapshot *snapshot, graphene_rect_t *place)
{
  TptPicture *picture = self->picture != NULL ? self->picture : self->whole;

  if (self->texture == NULL)
    self->texture = tpt_light_make_texture (picture, NULL, self->lift);
  settle_place (self, place);
  gtk_snapshot_append_texture (snapshot, self->texture, place);
}

static void
tpt_frame_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TptFrameView *self = TPT_FRAME_VIEW (widget);
  graphene_rect_t place;

  if (self->picture == NULL && self->whole == NULL)
    return;
  place = find_place (self);
  gtk_snapshot_push_clip (snapshot,
                          &GRAPHENE_RECT_INIT (0, 0, gtk_widget_get_width (widget), gtk_widget_get_height (widget)));
  if (self->zoom > 0 && self->whole != NULL)
    draw_tiles (self, snapshot, &place);
  else
    draw_picture (self, snapshot, &place);
  gtk_snapshot_pop (snapshot);
}

/* --- moving about ----------------------------------------------------------- */

/* Puts the picture's point (@x, @y) into the middle, as far as its edges let it. */
static void
center_on (TptFrameView *self, double x, double y)
{
  self->x = CLAMP (x, 0, 1);
  self->y = CLAMP (y, 0, 1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* Half of what is seen, as part of the picture: the middle stays as far from its edges. */
static void
keep_inside (TptFrameView *self)
{
  graphene_rect_t place = find_place (self);
  double half_x = MIN (0.5, gtk_widget_get_width (GTK_WIDGET (self)) / place.size.width / 2);
  double half_y = MIN (0.5, gtk_widget_get_height (GTK_WIDGET (self)) / place.size.height / 2);

  center_on (self, CLAMP (self->x, half_x, 1 - half_x), CLAMP (self->y, half_y, 1 - half_y));
}

static gboolean
is_empty (TptFrameView *self)
{
  return self->picture == NULL && self->whole == NULL;
}

/* The point under the pointer stays under it. */
static void
zoom_at (TptFrameView *self, int zoom, double x, double y)
{
  graphene_rect_t place;
  double part_x, part_y;

  if (is_empty (self) || zoom < 0 || zoom > MOST_ZOOM || zoom == self->zoom)
    return;
  place = find_place (self);
  part_x = (x - place.origin.x) / place.size.width;
  part_y = (y - place.origin.y) / place.size.height;
  tpt_frame_view_set_zoom (self, zoom);
  place = find_place (self);
  center_on (self, part_x - (x - gtk_widget_get_width (GTK_WIDGET (self)) / 2.0) / place.size.width,
             part_y - (y - gtk_widget_get_height (GTK_WIDGET (self)) / 2.0) / place.size.height);
  keep_inside (self);
}

static void
pressed_cb (TptFrameView *self, int n_press, double x, double y)
{
  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (n_press == 2)
    zoom_at (self, self->zoom == 0 ? 1 : 0, x, y);
}

static void
drag_begin_cb (TptFrameView *self)
{
  self->start_x = self->x;
  self->start_y = self->y;
}

static void
drag_update_cb (TptFrameView *self, double right, double down)
{
  graphene_rect_t place;

  if (is_empty (self) || self->zoom == 0)
    return;
  place = find_place (self);
  center_on (self, self->start_x - right / place.size.width, self->start_y - down / place.size.height);
  keep_inside (self);
}

static gboolean
scroll_cb (TptFrameView *self, double right, double down, GtkEventControllerScroll *scroll)
{
  double x = 0, y = 0;
  GdkEvent *event = gtk_event_controller_get_current_event (GTK_EVENT_CONTROLLER (scroll));
  GtkNative *native = gtk_widget_get_native (GTK_WIDGET (self));
  double native_x, native_y;

  if (event == NULL || !gdk_event_get_position (event, &x, &y))
    return FALSE;
  gtk_native_get_surface_transform (native, &native_x, &native_y);
  gtk_widget_translate_coordinates (GTK_WIDGET (native), GTK_WIDGET (self), x - native_x, y - native_y, &x, &y);
  zoom_at (self, self->zoom + (down < 0 ? 1 : -1), x, y);
  return TRUE;
}

static void
add_gestures (TptFrameView *self)
{
  GtkGesture *click = gtk_gesture_click_new ();
  GtkGesture *drag = gtk_gesture_drag_new ();
  GtkEventController *scroll =
    gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_VERTICAL | GTK_EVENT_CONTROLLER_SCROLL_DISCRETE);

  g_signal_connect_swapped (click, "pressed", G_CALLBACK (pressed_cb), self);
  g_signal_connect_swapped (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect_swapped (drag, "drag-update", G_CALLBACK (drag_update_cb), self);
  g_signal_connect_swapped (scroll, "scroll", G_CALLBACK (scroll_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
  gtk_widget_add_controller (GTK_WIDGET (self), scroll);
}

static void
tpt_frame_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  TptFrameView *self = TPT_FRAME_VIEW (widget);

  if (width == self->width && height == self->height)
    return;
  self->width = width;
  self->height = height;
  if (!is_empty (self) && self->zoom > 0)
    keep_inside (self);
  g_signal_emit (self, signals[SIGNAL_RESIZED], 0);
}

/* --- the object ------------------------------------------------------------- */

static void
tpt_frame_view_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  switch (id)
    {
    case PROP_ZOOM:
      g_value_set_int (value, TPT_FRAME_VIEW (object)->zoom);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tpt_frame_view_finalize (GObject *object)
{
  TptFrameView *self = TPT_FRAME_VIEW (object);

  g_clear_pointer (&self->picture, tpt_picture_unref);
  g_clear_pointer (&self->whole, tpt_picture_unref);
  g_clear_object (&self->texture);
  g_hash_table_unref (self->tiles);

  G_OBJECT_CLASS (tpt_frame_view_parent_class)->finalize (object);
}

static void
tpt_frame_view_class_init (TptFrameViewClass *klass)
{
  G_OBJECT_CLASS (klass)->get_property = tpt_frame_view_get_property;
  G_OBJECT_CLASS (klass)->finalize = tpt_frame_view_finalize;
  GTK_WIDGET_CLASS (klass)->snapshot = tpt_frame_view_snapshot;
  GTK_WIDGET_CLASS (klass)->size_allocate = tpt_frame_view_size_allocate;

  properties[PROP_ZOOM] =
    g_param_spec_int ("zoom", NULL, NULL, 0, MOST_ZOOM, 0, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (G_OBJECT_CLASS (klass), N_PROPS, properties);
  signals[SIGNAL_WHOLE_WANTED] =
    g_signal_new ("whole-wanted", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_RESIZED] =
    g_signal_new ("resized", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_IMG);
}

static void
tpt_frame_view_init (TptFrameView *self)
{
  self->tiles = g_hash_table_new_full (NULL, NULL, NULL, g_object_unref);
  self->aspect = 4.0 / 3.0;
  self->x = self->y = 0.5;
  gtk_widget_add_css_class (GTK_WIDGET (self), "picture-ground");
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  add_gestures (self);
}

void
tpt_frame_view_set_picture (TptFrameView *self, TptPicture *picture)
{
  TptPicture *kept = picture != NULL ? tpt_picture_ref (picture) : NULL;

  g_clear_pointer (&self->picture, tpt_picture_unref);
  if (kept == NULL)
    g_clear_pointer (&self->whole, tpt_picture_unref);
  self->picture = kept;
  if (kept != NULL && kept->height > 0)
    self->aspect = (double) kept->width / kept->height;
  drop_textures (self);
}

gboolean
tpt_frame_view_is_sharp (TptFrameView *self)
{
  double width, height;

  if (is_empty (self))
    return FALSE;
  get_full_size (self, &width, &height);
  if (self->zoom > 0)
    return self->whole != NULL || self->picture->width >= width;
  return self->picture->width >= MIN (width, tpt_frame_view_get_fit (self) * CLOSE_ENOUGH * MIN (1, self->aspect));
}

void
tpt_frame_view_set_whole (TptFrameView *self, TptPicture *whole)
{
  TptPicture *kept = whole != NULL ? tpt_picture_ref (whole) : NULL;

  g_clear_pointer (&self->whole, tpt_picture_unref);
  self->whole = kept;
  g_hash_table_remove_all (self->tiles);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
tpt_frame_view_set_zoom (TptFrameView *self, int zoom)
{
  zoom = CLAMP (zoom, 0, MOST_ZOOM);
  if (zoom == self->zoom)
    return;
  self->zoom = zoom;
  if (zoom == 0)
    self->x = self->y = 0.5;
  if (!is_empty (self))
    keep_inside (self);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), zoom > 0 ? "grab" : NULL);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_ZOOM]);
  if (zoom > 0 && self->whole == NULL)
    g_signal_emit (self, signals[SIGNAL_WHOLE_WANTED], 0);
}

int
tpt_frame_view_get_zoom (TptFrameView *self)
{
  return self->zoom;
}

void
tpt_frame_view_pan (TptFrameView *self, double right, double down)
{
  graphene_rect_t place;

  if (is_empty (self) || self->zoom == 0)
    return;
  place = find_place (self);
  self->x += right * gtk_widget_get_width (GTK_WIDGET (self)) / place.size.width;
  self->y += down * gtk_widget_get_height (GTK_WIDGET (self)) / place.size.height;
  keep_inside (self);
}

void
tpt_frame_view_set_lift (TptFrameView *self, double lift)
{
  if (lift == self->lift)
    return;
  self->lift = lift;
  drop_textures (self);
}

double
tpt_frame_view_get_lift (TptFrameView *self)
{
  return self->lift;
}

void
tpt_frame_view_set_text (TptFrameView *self, const char *text)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
}

int
tpt_frame_view_get_fit (TptFrameView *self)
{
  int scale = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  double width = gtk_widget_get_width (GTK_WIDGET (self)) * scale;
  double height = gtk_widget_get_height (GTK_WIDGET (self)) * scale;
  double fit_width = MIN (width, height * self->aspect);

  return (int) MAX (fit_width, fit_width / self->aspect);
}
