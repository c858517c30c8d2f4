#include "config.h"

#include "tpt-map-pair.h"

#include <math.h>

#include "tpt-job-findings.h"

#define N_MAPS 2

struct _TptMapPair {
  GtkWidget parent_instance;

  GtkWidget *halves[N_MAPS];
  GtkLabel *titles[N_MAPS];
  TptMapView *maps[N_MAPS];
};

G_DEFINE_FINAL_TYPE (TptMapPair, tpt_map_pair, GTK_TYPE_WIDGET)

static void
tpt_map_pair_dispose (GObject *object)
{
  TptMapPair *self = TPT_MAP_PAIR (object);

  for (guint i = 0; i < N_MAPS; i++)
    g_clear_pointer (&self->halves[i], gtk_widget_unparent);
  G_OBJECT_CLASS (tpt_map_pair_parent_class)->dispose (object);
}

static void
tpt_map_pair_class_init (TptMapPairClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_map_pair_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
}

static void
add_half (TptMapPair *self, guint which)
{
  GtkWidget *half = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *title = gtk_label_new ("");
  GtkWidget *map = tpt_map_view_new ();

  gtk_label_set_ellipsize (GTK_LABEL (title), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (title, "small");
  gtk_widget_set_visible (title, FALSE);
  gtk_widget_set_vexpand (map, TRUE);
  gtk_widget_set_hexpand (half, TRUE);
  gtk_box_append (GTK_BOX (half), title);
  gtk_box_append (GTK_BOX (half), map);
  gtk_widget_set_parent (half, GTK_WIDGET (self));
  self->halves[which] = half;
  self->titles[which] = GTK_LABEL (title);
  self->maps[which] = TPT_MAP_VIEW (map);
}

static void
tpt_map_pair_init (TptMapPair *self)
{
  GtkBoxLayout *layout = GTK_BOX_LAYOUT (gtk_widget_get_layout_manager (GTK_WIDGET (self)));

  gtk_box_layout_set_homogeneous (layout, TRUE);
  gtk_box_layout_set_spacing (layout, 6);
  for (guint i = 0; i < N_MAPS; i++)
    add_half (self, i);
  gtk_widget_set_visible (self->halves[1], FALSE);
}

GtkWidget *
tpt_map_pair_new (void)
{
  return g_object_new (TPT_TYPE_MAP_PAIR, NULL);
}

TptMapView *
tpt_map_pair_get_map (TptMapPair *self, guint which)
{
  return self->maps[which];
}

void
tpt_map_pair_set_titles (TptMapPair *self, const char *first, const char *second)
{
  const char *const titles[N_MAPS] = { first, second };
  gboolean both = first != NULL;

  for (guint i = 0; i < N_MAPS; i++)
    {
      gtk_label_set_label (self->titles[i], both ? titles[i] : "");
      gtk_widget_set_visible (GTK_WIDGET (self->titles[i]), both);
    }
  if (gtk_widget_get_visible (self->halves[1]) == both)
    return;
  gtk_widget_set_visible (self->halves[1], both);
  tpt_map_view_follow (self->maps[1], both ? self->maps[0] : NULL);
}

void
tpt_map_pair_set_measure (TptMapPair *self, TptMapMeasure measure)
{
  for (guint i = 0; i < N_MAPS; i++)
    tpt_map_view_set_measure (self->maps[i], measure);
}

void
tpt_map_pair_set_tracks (TptMapPair *self, GPtrArray *tracks)
{
  for (guint i = 0; i < N_MAPS; i++)
    tpt_map_view_set_tracks (self->maps[i], tracks);
}

void
tpt_map_pair_set_moment (TptMapPair *self, TptZone *zone, TptInstant on)
{
  for (guint i = 0; i < N_MAPS; i++)
    tpt_map_view_set_moment (self->maps[i], zone, on);
}

void
tpt_map_pair_set_selected (TptMapPair *self, const char *code)
{
  for (guint i = 0; i < N_MAPS; i++)
    tpt_map_view_set_selected (self->maps[i], code);
}

void
tpt_map_pair_set_chosen (TptMapPair *self, const char *const *codes)
{
  for (guint i = 0; i < N_MAPS; i++)
    tpt_map_view_set_chosen (self->maps[i], codes);
}

TptFigure *
tpt_map_pair_make_figure (TptMapMeasure measure, GListModel *places)
{
  TptFigure *figure = tpt_chart_map_new (measure, TPT_MAP_EXACT);
  guint n = places != NULL ? g_list_model_get_n_items (places) : 0;

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (TptPlaceItem) item = g_list_model_get_item (places, i);
      TptRecord *record = tpt_place_item_get_record (item);
      const TptRate *rate = tpt_place_item_get_rate (item);
      TptMapStation station = { tpt_place_item_get_title (item), tpt_record_get_code (record),
                                { tpt_record_get_real (record, "latitude"), tpt_record_get_real (record, "longitude") },
                                (double) rate->detections, rate->nights };

      if (!isnan (station.place.latitude) && !isnan (station.place.longitude))
        tpt_chart_map_add_station (figure, &station);
    }
  return figure;
}
