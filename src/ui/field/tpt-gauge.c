#include "tpt-gauge.h"

#include <adwaita.h>
#include <math.h>

#include "tpt-style.h"

#define WIDTH 8
#define HEIGHT 32

struct _TptGauge {
  GtkWidget parent_instance;

  double left;
  TptSymbolState state;
};

G_DEFINE_FINAL_TYPE (TptGauge, tpt_gauge, GTK_TYPE_WIDGET)

static void
tpt_gauge_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                   int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? WIDTH : HEIGHT;
}

static void
trace_capsule (cairo_t *cr, double x, double y, double width, double height)
{
  double r = width / 2;

  cairo_new_path (cr);
  cairo_arc (cr, x + r, y + r, r, G_PI, 2 * G_PI);
  cairo_arc (cr, x + r, y + height - r, r, 0, G_PI);
  cairo_close_path (cr);
}

static void
draw (TptGauge *self, cairo_t *cr, double height)
{
  TptPalette palette = tpt_style_get_palette ();

  if (isnan (self->left))
    {
      trace_capsule (cr, 1.5, 1.5, WIDTH - 3, height - 3);
      tpt_palette_set (palette, cr, TPT_COLOR_QUIET, 0.6);
      cairo_set_line_width (cr, 1);
      cairo_stroke (cr);
      return;
    }
  trace_capsule (cr, 1, 1, WIDTH - 2, height - 2);
  tpt_palette_set (palette, cr, TPT_COLOR_INK, 0.14);
  cairo_fill_preserve (cr);
  cairo_clip (cr);
  tpt_palette_set (palette, cr, tpt_symbol_state_color (self->state), 1);
  cairo_rectangle (cr, 0, 1 + (height - 2) * (1 - CLAMP (self->left, 0, 1)), WIDTH, height);
  cairo_fill (cr);
}

static void
tpt_gauge_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  float height = (float) gtk_widget_get_height (widget);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, WIDTH, height));

  draw (TPT_GAUGE (widget), cr, height);
  cairo_destroy (cr);
}

static void
tpt_gauge_class_init (TptGaugeClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  widget_class->measure = tpt_gauge_measure;
  widget_class->snapshot = tpt_gauge_snapshot;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
tpt_gauge_init (TptGauge *self)
{
  self->left = NAN;
  self->state = TPT_STATE_UNKNOWN;
  g_signal_connect_object (adw_style_manager_get_default (), "notify::dark", G_CALLBACK (gtk_widget_queue_draw), self,
                           G_CONNECT_SWAPPED);
}

void
tpt_gauge_set (TptGauge *self, double left, TptSymbolState state)
{
  self->left = left;
  self->state = state;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
