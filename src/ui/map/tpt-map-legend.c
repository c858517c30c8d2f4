#include "config.h"

#include "tpt-map-legend.h"

#include <adwaita.h>
#include <glib/gi18n-lib.h>

#include "tpt-style.h"
#include "tpt-symbol.h"

struct _TptMapLegend {
  GtkWidget parent_instance;

  GtkDrawingArea *seen_area;
  GtkLabel *seen_label;
  GtkDrawingArea *not_seen_area;
  GtkDrawingArea *not_worked_area;
};

G_DEFINE_FINAL_TYPE (TptMapLegend, tpt_map_legend, GTK_TYPE_WIDGET)

typedef void (*DrawFunc) (cairo_t *cr, double x, double y, double diameter, TptPalette palette);

typedef struct {
  DrawFunc draw;
  double diameter;
} Sample;

static const Sample seen = { tpt_symbol_draw_seen, 14 };
static const Sample not_seen = { tpt_symbol_draw_not_seen, 14 };
static const Sample not_worked = { tpt_symbol_draw_not_worked, 8 };

static void
draw_sample_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const Sample *sample = data;

  sample->draw (cr, width / 2.0, height / 2.0, sample->diameter, tpt_style_get_palette ());
}

static void
set_up_sample (TptMapLegend *self, GtkDrawingArea *area, const Sample *sample)
{
  gtk_drawing_area_set_draw_func (area, draw_sample_cb, (gpointer) sample, NULL);
  g_signal_connect_object (adw_style_manager_get_default (), "notify::dark", G_CALLBACK (gtk_widget_queue_draw), area,
                           G_CONNECT_SWAPPED);
}

static void
tpt_map_legend_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_MAP_LEGEND);
  G_OBJECT_CLASS (tpt_map_legend_parent_class)->dispose (object);
}

static void
tpt_map_legend_class_init (TptMapLegendClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_map_legend_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/map/tpt-map-legend.ui");
  gtk_widget_class_bind_template_child_full (widget_class, "not_seen_label", FALSE, 0);
  gtk_widget_class_bind_template_child_full (widget_class, "not_worked_label", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptMapLegend, seen_area);
  gtk_widget_class_bind_template_child (widget_class, TptMapLegend, seen_label);
  gtk_widget_class_bind_template_child (widget_class, TptMapLegend, not_seen_area);
  gtk_widget_class_bind_template_child (widget_class, TptMapLegend, not_worked_area);
  gtk_widget_class_set_css_name (widget_class, "map-legend");
}

static void
tpt_map_legend_init (TptMapLegend *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  set_up_sample (self, self->seen_area, &seen);
  set_up_sample (self, self->not_seen_area, &not_seen);
  set_up_sample (self, self->not_worked_area, &not_worked);
  tpt_map_legend_set_measure (self, TPT_MAP_COUNT);
}

void
tpt_map_legend_set_measure (TptMapLegend *self, TptMapMeasure measure)
{
  static const char *const words[] = {
    [TPT_MAP_COUNT] = N_("Area: detections"),
    [TPT_MAP_RATE] = N_("Area: detections per 100 trap nights"),
    [TPT_MAP_PRESENCE] = N_("Seen"),
  };

  gtk_label_set_label (self->seen_label, _(words[measure]));
}
