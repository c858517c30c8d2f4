#include "tpt-chart-view-private.h"

#include "sci-geodesy.h"

double
tpt_chart_nearest_turn (double longitude,
                        double near)
{
  return longitude - 360 * round ((longitude - near) / 360);
}

static int
compare_doubles (gconstpointer a,
                 gconstpointer b)
{
  double left = *(const double *) a;
  double right = *(const double *) b;

  return (left > right) - (left < right);
}

/* Leaves out the widest stretch of the globe without a place. */
static void
find_longitudes (const TptPlace *places,
                 guint n_places,
                 double *west,
                 double *east)
{
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (double));
  double widest;

  for (guint i = 0; i < n_places; i++)
    {
      double longitude = tpt_chart_nearest_turn (places[i].longitude, 0);

      g_array_append_val (all, longitude);
    }
  g_array_sort (all, compare_doubles);

  *west = g_array_index (all, double, 0);
  *east = g_array_index (all, double, all->len - 1);
  widest = *west + 360 - *east;
  for (guint i = 1; i < all->len; i++)
    {
      double before = g_array_index (all, double, i - 1);
      double after = g_array_index (all, double, i);

      if (after - before > widest)
        {
          widest = after - before;
          *west = after;
          *east = before + 360;
        }
    }
}

static double
get_latitude (const TptChartView *view)
{
  double latitude, longitude;

  sci_mercator_inverse (view->world_x, view->world_y, &latitude, &longitude);
  return latitude;
}

TptChartView
tpt_chart_view_fit (const TptPlace *places,
                    guint n_places,
                    const TptFigureRect *rect,
                    double pad,
                    double least_metres)
{
  TptChartView view = { *rect };
  double west, east, north = 1, south = 0, x, y, least, width, height;

  find_longitudes (places, n_places, &west, &east);
  for (guint i = 0; i < n_places; i++)
    {
      sci_mercator_forward (places[i].latitude, 0, &x, &y);
      north = MIN (north, y);
      south = MAX (south, y);
    }

  view.longitude = (west + east) / 2;
  view.world_x = (view.longitude + 180) / 360;
  view.world_y = (north + south) / 2;
  least = least_metres / sci_mercator_metres (get_latitude (&view));
  width = MAX (rect->width - 2 * pad, rect->width / 3);
  height = MAX (rect->height - 2 * pad, rect->height / 3);
  view.scale = MIN (width / MAX ((east - west) / 360, least), height / MAX (south - north, least));
  return view;
}

void
tpt_chart_view_project_turn (const TptChartView *view,
                             double latitude,
                             double longitude,
                             double *x,
                             double *y)
{
  double world_x, world_y;

  sci_mercator_forward (latitude, longitude, &world_x, &world_y);
  *x = view->rect.x + view->rect.width / 2 + (world_x - view->world_x) * view->scale;
  *y = view->rect.y + view->rect.height / 2 + (world_y - view->world_y) * view->scale;
}

void
tpt_chart_view_project (const TptChartView *view,
                        TptPlace place,
                        double *x,
                        double *y)
{
  tpt_chart_view_project_turn (view, place.latitude, tpt_chart_nearest_turn (place.longitude, view->longitude), x, y);
}

TptPlace
tpt_chart_view_place (const TptChartView *view,
                      double x,
                      double y)
{
  double world_x = view->world_x + (x - view->rect.x - view->rect.width / 2) / view->scale;
  double world_y = view->world_y + (y - view->rect.y - view->rect.height / 2) / view->scale;

  TptPlace place;

  sci_mercator_inverse (world_x, world_y, &place.latitude, &place.longitude);
  return place;
}

double
tpt_chart_view_metres (const TptChartView *view)
{
  return sci_mercator_metres (get_latitude (view)) / view->scale;
}
