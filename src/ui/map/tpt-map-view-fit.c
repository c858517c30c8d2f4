/* What the map shows, and what lies on it, by its size. */
#include <math.h>

#include "tpt-map-view-private.h"

/* Room for names and buttons around what is brought into view; less on a small map. */
#define FIT_MARGIN_X 96
#define FIT_MARGIN_Y 56
#define FIT_MARGIN_SHARE 0.15
#define DISC_SHARE 0.14 /* of the shorter side, for the largest disc */
#define LEAST_LARGEST_DISC 24
#define SMALL_WIDTH 560 /* and less: the legend shows when asked for */
#define SMALL_HEIGHT 200
#define NARROW_WIDTH 440
#define NARROW_FOOT 88
#define FIT_CLOSEST_ZOOM 15

/* What is kept free around what is brought into view: at both sides, above and below. */
typedef struct {
  double side;
  double head;
  double foot;
} Margins;

/* On a narrow map the button of the legend and the scale lie below all of it. */
static Margins
find_margins (TptMapView *self, int width, int height)
{
  double head = MIN (FIT_MARGIN_Y, FIT_MARGIN_SHARE * height);
  gboolean low = self->places != NULL && width <= NARROW_WIDTH;

  return (Margins){ MIN (FIT_MARGIN_X, FIT_MARGIN_SHARE * width), head, low ? MAX (head, NARROW_FOOT) : head };
}

/* The zoom at which a box fits into @width by @height, or the closest for a single place. */
static double
find_zoom (double across, double down, int width, int height, const Margins *margins)
{
  double room_x = MAX (width - 2 * margins->side, 64), room_y = MAX (height - margins->head - margins->foot, 64);
  double world = MIN (across > 0 ? room_x / across : G_MAXDOUBLE, down > 0 ? room_y / down : G_MAXDOUBLE);

  return MIN (world < G_MAXDOUBLE ? tpt_map_zoom_for_world (world) : FIT_CLOSEST_ZOOM, FIT_CLOSEST_ZOOM + 2);
}

static gboolean
get_box (TptMapView *self, double *left, double *top, double *right, double *bottom)
{
  return tpt_map_marks_get_box (self->marks, left, top, right, bottom) ||
         tpt_map_lines_get_box (self->lines, left, top, right, bottom);
}

static void
fit_into (TptMapView *self, int width, int height)
{
  Margins margins = find_margins (self, width, height);
  double left, top, right, bottom, latitude, longitude, down;

  self->must_fit = FALSE;
  if (!get_box (self, &left, &top, &right, &bottom))
    return;

  shumate_map_stop_go_to (self->map);
  self->fitting = TRUE;
  shumate_viewport_set_zoom_level (self->viewport, find_zoom (right - left, bottom - top, width, height, &margins));
  down = (margins.foot - margins.head) / 2 / tpt_map_view_get_frame (self).world;
  tpt_map_unproject ((left + right) / 2, (top + bottom) / 2 + down, &latitude, &longitude);
  shumate_location_set_location (SHUMATE_LOCATION (self->viewport), latitude, longitude);
  self->fitting = FALSE;
  self->moved = FALSE;
}

void
tpt_map_view_moved (TptMapView *self)
{
  if (!self->fitting)
    self->moved = TRUE;
}

static gboolean
fold_legend_cb (gpointer data)
{
  TptMapView *self = data;

  self->size_source = 0;
  gtk_toggle_button_set_active (self->legend_toggle, !self->small);
  return G_SOURCE_REMOVE;
}

/* Not while sizes are being given out. */
static void
fold_legend (TptMapView *self, gboolean small)
{
  if (small == self->small)
    return;
  self->small = small;
  if (self->size_source == 0)
    self->size_source = g_idle_add (fold_legend_cb, self);
}

/* Another size: discs keep their share of it, and what was brought into view stays there. */
void
tpt_map_view_take_size (TptMapView *self, int width, int height)
{
  gboolean is_new = width != self->fitted_width || height != self->fitted_height;

  tpt_map_marks_set_largest (self->marks, MAX (MIN (width, height) * DISC_SHARE, LEAST_LARGEST_DISC));
  self->fitted_width = width;
  self->fitted_height = height;
  fold_legend (self, width <= SMALL_WIDTH || height <= SMALL_HEIGHT);
  if (self->must_fit ||
      (is_new && !self->moved && self->leader == NULL && self->fitted != TPT_MAP_FITTED_NOTHING))
    fit_into (self, width, height);
}

/* The first things shown are brought into view, later ones only when asked. */
void
tpt_map_view_fit_first (TptMapView *self)
{
  TptMapFitted have = tpt_map_marks_get_n_marks (self->marks) > 0    ? TPT_MAP_FITTED_STATIONS
                      : tpt_map_lines_get_n_tracks (self->lines) > 0 ? TPT_MAP_FITTED_TRACKS
                                                                     : TPT_MAP_FITTED_NOTHING;

  if (have > self->fitted)
    {
      self->fitted = have;
      tpt_map_view_fit (self);
    }
  else if (have == TPT_MAP_FITTED_NOTHING)
    self->fitted = have;
}

void
tpt_map_view_show_legend (TptMapView *self)
{
  gboolean places = self->places != NULL;

  gtk_widget_set_visible (GTK_WIDGET (self->legend_toggle), places);
  gtk_widget_set_visible (GTK_WIDGET (self->legend), places && gtk_toggle_button_get_active (self->legend_toggle));
}

static void
add_bounds (TptMapView *self, GtkWidget *part, GArray *places)
{
  graphene_rect_t bounds;

  if (gtk_widget_get_mapped (part) && gtk_widget_compute_bounds (part, GTK_WIDGET (self->map), &bounds) &&
      bounds.size.width > 0)
    g_array_append_val (places, bounds);
}

/* What lies on the map would cover the names below it. */
void
tpt_map_view_hide_covered (TptMapView *self)
{
  g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (graphene_rect_t));

  add_bounds (self, GTK_WIDGET (self->legend), places);
  add_bounds (self, GTK_WIDGET (self->legend_toggle), places);
  add_bounds (self, GTK_WIDGET (self->scale), places);
  add_bounds (self, self->tools, places);
  tpt_map_marks_set_hidden (self->marks, places);
}

void
tpt_map_view_fit (TptMapView *self)
{
  int width = gtk_widget_get_width (GTK_WIDGET (self->map)), height = gtk_widget_get_height (GTK_WIDGET (self->map));

  if (self->leader != NULL)
    {
      tpt_map_view_fit (self->leader);
      return;
    }
  self->must_fit = TRUE;
  if (width > 0 && height > 0)
    fit_into (self, width, height);
}
