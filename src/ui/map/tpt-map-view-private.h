/* What the files of the map view share. */
#pragma once

#include <shumate/shumate.h>

#include "tpt-map-frame.h"
#include "tpt-map-legend.h"
#include "tpt-map-lines.h"
#include "tpt-map-marks.h"
#include "tpt-map-scale.h"
#include "tpt-map-view.h"

G_BEGIN_DECLS

/* A press that moved further than this was a pan, or a box. */
#define TPT_MAP_STILL_DISTANCE 6

/* What was brought into view without being asked to. */
typedef enum {
  TPT_MAP_FITTED_NOTHING,
  TPT_MAP_FITTED_TRACKS,
  TPT_MAP_FITTED_STATIONS,
} TptMapFitted;

struct _TptMapView {
  GtkWidget parent_instance;

  GtkOverlay *overlay;
  ShumateMap *map;
  TptMapScale *scale;
  TptMapLegend *legend;
  GtkToggleButton *legend_toggle;
  GtkWidget *hint;
  GtkWidget *tools;

  ShumateViewport *viewport; /* (not owned): the map's */
  TptMapLines *lines;        /* (not owned): the map's */
  TptMapMarks *marks;        /* (not owned): the map's */

  GPtrArray *tracks;    /* (owned) (nullable) (element-type TptTrack) */
  GListModel *stations; /* (owned) (nullable) */
  GListModel *places;   /* (owned) (nullable) */
  TptMapMeasure measure;
  TptZone *zone; /* (owned) */
  TptInstant on;

  char *selected; /* (owned) (nullable) */
  gboolean picking;
  TptMapFitted fitted;
  gboolean must_fit; /* as soon as there is a size to fit into */
  gboolean fitting;  /* it is us who move it */
  gboolean moved;    /* by somebody since it was fitted */
  gboolean small;    /* the legend would hide much of it */
  guint size_source;
  int fitted_width;
  int fitted_height;
  TptMapView *leader;  /* (not owned) (nullable): the map it goes along with */
  GPtrArray *bindings; /* (owned) (nullable) (element-type GBinding) */
  double press_x;
  double press_y;
};

/* Actions, shortcuts and controllers. */
void tpt_map_view_input_class_init (GtkWidgetClass *widget_class);
void tpt_map_view_input_init (TptMapView *self);

/* A click at a pixel of the map, and one with Control held. */
void tpt_map_view_click (TptMapView *self, double x, double y);
void tpt_map_view_click_with_control (TptMapView *self, double x, double y);

/* tpt-map-view-fit.c */
/* The first things shown are brought into view, later ones only when asked. */
void tpt_map_view_fit_first (TptMapView *self);
/* Before and after the map is given its size. */
void tpt_map_view_take_size (TptMapView *self, int width, int height);
void tpt_map_view_hide_covered (TptMapView *self);
/* The viewport is another. */
void tpt_map_view_moved (TptMapView *self);
void tpt_map_view_show_legend (TptMapView *self);

/* tpt-map-view-choose.c */
void tpt_map_view_choose_init (TptMapView *self);
void tpt_map_view_choose_box (TptMapView *self, const graphene_rect_t *box, gboolean add);
gboolean tpt_map_view_toggle (TptMapView *self, int position);
gboolean tpt_map_view_choose_none (TptMapView *self);
/* (transfer full): how many are chosen, or how to. */
char *tpt_map_view_describe_chosen (TptMapView *self);

/* What a pointer at a pixel of the map is told, or %NULL. */
char *tpt_map_view_tell (TptMapView *self, double x, double y);

TptMapFrame tpt_map_view_get_frame (TptMapView *self);

/* Moves the map so that a pixel comes to its middle. */
void tpt_map_view_centre_on_pixel (TptMapView *self, double x, double y);

/* Brings the mark into sight if it is not. */
void tpt_map_view_reveal (TptMapView *self, int position);

/* Tells assistive technology and the layer what is chosen now. */
void tpt_map_view_update_words (TptMapView *self);

void tpt_map_view_emit_selected (TptMapView *self, const char *code);
/* "station-picked", for what lies at @position. */
void tpt_map_view_emit_pointed (TptMapView *self, const char *code, int position);
void tpt_map_view_emit_chosen (TptMapView *self, GStrv codes, gboolean add);
void tpt_map_view_emit_picked (TptMapView *self, double latitude, double longitude);

G_END_DECLS
