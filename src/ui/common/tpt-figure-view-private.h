/* What the files of the figure view share. */
#pragma once

#include "tpt-figure-stretch.h"
#include "tpt-figure-view.h"
#include "tpt-figure-walk.h"

G_BEGIN_DECLS

struct _TptFigureView {
  GtkWidget parent_instance;

  TptFigure *figure; /* (owned) (nullable) */
  TptRange brush;
  double hour_from;
  double hour_to;
  TptStretch stretch; /* shown instead of the brush and the hours while somebody makes it */
  int chosen_row;
  GStrv chosen_keys; /* (owned) (nullable) */
  gboolean brushable;
  gboolean squeezable;
  TptWalker walker;
  int walked_width; /* the size in which the walker knows its place */
  int walked_height;
  char *reading; /* (owned) (nullable) */
};

/* tpt-figure-view.c */
TptFigureStyle tpt_figure_view_get_style (TptFigureView *self);
TptStretchGround tpt_figure_view_get_ground (TptFigureView *self, const TptFigureStyle *style);
gboolean tpt_figure_view_hit (TptFigureView *self, double x, double y, TptHit *hit);
void tpt_figure_view_set_reading (TptFigureView *self, const char *reading);
/* Says where the keyboard is, unless a stretch is being made: that has its own words. */
void tpt_figure_view_read_place (TptFigureView *self);
void tpt_figure_view_forget_place (TptFigureView *self);
void tpt_figure_view_drop_stretch (TptFigureView *self);
void tpt_figure_view_take_stretch (TptFigureView *self);
void tpt_figure_view_show_stretch (TptFigureView *self, gboolean grown);
void tpt_figure_view_pick (TptFigureView *self, const TptHit *hit, gboolean add);
/* "brush-cleared", if anything is brushed. */
void tpt_figure_view_clear_brush (TptFigureView *self);

/* tpt-figure-view-input.c: keys, and what the mouse does */
void tpt_figure_view_input_class_init (GtkWidgetClass *widget_class);
void tpt_figure_view_input_init (TptFigureView *self);

G_END_DECLS
