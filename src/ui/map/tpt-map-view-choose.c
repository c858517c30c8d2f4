/* Several stations chosen together, and two maps that go together. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-map-view-private.h"

/* --- a box ---------------------------------------------------------------------- */

static graphene_rect_t
make_box (double x, double y, double across, double down)
{
  return GRAPHENE_RECT_INIT ((float) MIN (x, x + across), (float) MIN (y, y + down), (float) fabs (across),
                             (float) fabs (down));
}

static GdkModifierType
get_state (gpointer gesture)
{
  return gtk_event_controller_get_current_event_state (gesture);
}

/* Without Shift it is the map's to move. */
static void
box_begin_cb (GtkGestureDrag *gesture, double x, double y, gpointer data)
{
  TptMapView *self = data;
  gboolean wanted = self->places != NULL && !self->picking && (get_state (gesture) & GDK_SHIFT_MASK) != 0;

  gtk_gesture_set_state (GTK_GESTURE (gesture), wanted ? GTK_EVENT_SEQUENCE_CLAIMED : GTK_EVENT_SEQUENCE_DENIED);
  if (wanted)
    gtk_widget_grab_focus (GTK_WIDGET (self));
}

static void
box_update_cb (GtkGestureDrag *gesture, double across, double down, gpointer data)
{
  TptMapView *self = data;
  graphene_rect_t box;
  double x, y;

  if (!gtk_gesture_drag_get_start_point (gesture, &x, &y))
    return;
  box = make_box (x, y, across, down);
  tpt_map_marks_set_box (self->marks, &box);
}

void
tpt_map_view_choose_box (TptMapView *self, const graphene_rect_t *box, gboolean add)
{
  g_auto (GStrv) codes = tpt_map_marks_find_within (self->marks, box);

  tpt_map_view_emit_chosen (self, codes, add);
}

static void
box_end_cb (GtkGestureDrag *gesture, double across, double down, gpointer data)
{
  TptMapView *self = data;
  graphene_rect_t box;
  double x, y;

  tpt_map_marks_set_box (self->marks, NULL);
  if (!gtk_gesture_drag_get_start_point (gesture, &x, &y) || hypot (across, down) < TPT_MAP_STILL_DISTANCE)
    return;
  box = make_box (x, y, across, down);
  tpt_map_view_choose_box (self, &box, (get_state (gesture) & GDK_CONTROL_MASK) != 0);
}

static void
box_cancel_cb (GtkGesture *gesture, GdkEventSequence *sequence, gpointer data)
{
  tpt_map_marks_set_box (TPT_MAP_VIEW (data)->marks, NULL);
}

/* Before the map's own, which would pan. */
void
tpt_map_view_choose_init (TptMapView *self)
{
  GtkGesture *drag = gtk_gesture_drag_new ();

  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (drag), GTK_PHASE_CAPTURE);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (box_begin_cb), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (box_update_cb), self);
  g_signal_connect (drag, "drag-end", G_CALLBACK (box_end_cb), self);
  g_signal_connect (drag, "cancel", G_CALLBACK (box_cancel_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self->map), GTK_EVENT_CONTROLLER (drag));
}

/* --- one by one ------------------------------------------------------------------ */

/* Puts the station in or takes it out. %FALSE where stations are not chosen together. */
gboolean
tpt_map_view_toggle (TptMapView *self, int position)
{
  const char *code = position >= 0 ? tpt_map_marks_get (self->marks, (guint) position)->code : NULL;
  g_auto (GStrv) codes = NULL;

  if (self->places == NULL || code == NULL)
    return FALSE;
  codes = g_strdupv ((char *[]) { (char *) code, NULL });
  tpt_map_view_emit_chosen (self, codes, TRUE);
  return TRUE;
}

gboolean
tpt_map_view_choose_none (TptMapView *self)
{
  const char *const none[] = { NULL };

  if (self->places == NULL || tpt_map_marks_get_n_chosen (self->marks) == 0)
    return FALSE;
  tpt_map_view_emit_chosen (self, (GStrv) none, FALSE);
  return TRUE;
}

void
tpt_map_view_set_chosen (TptMapView *self, const char *const *codes)
{
  tpt_map_marks_set_chosen (self->marks, codes);
  tpt_map_view_update_words (self);
}

char *
tpt_map_view_describe_chosen (TptMapView *self)
{
  guint n = tpt_map_marks_get_n_chosen (self->marks);

  if (self->places == NULL)
    return g_strdup (_("N and P go from station to station, Enter selects."));
  if (n == 0)
    return g_strdup (_("N and P go from station to station, Enter selects, Space chooses several."));
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u station chosen.", "%u stations chosen.", n), n);
}

TptThing *
tpt_map_view_make_thing (TptMapView *self, const char *code)
{
  int position = tpt_map_marks_find (self->marks, code);
  const TptMapMark *mark = position >= 0 ? tpt_map_marks_get (self->marks, (guint) position) : NULL;
  TptThing *thing;

  if (mark == NULL)
    return NULL;
  thing = tpt_thing_new ();
  thing->text = tpt_map_mark_describe (mark);
  thing->station = g_strdup (mark->code);
  thing->station_title = g_strdup (mark->title);
  return thing;
}

/* --- two maps ---------------------------------------------------------------------- */

static void
bind (TptMapView *self, TptMapView *other, const char *property)
{
  GBinding *binding =
    g_object_bind_property (other->viewport, property, self->viewport, property, G_BINDING_BIDIRECTIONAL | G_BINDING_SYNC_CREATE);

  g_ptr_array_add (self->bindings, g_object_ref (binding));
}

static void
unbind (gpointer data)
{
  g_binding_unbind (data); /* nothing where a map has gone already */
  g_object_unref (data);
}

void
tpt_map_view_follow (TptMapView *self, TptMapView *other)
{
  g_clear_pointer (&self->bindings, g_ptr_array_unref);
  g_set_weak_pointer (&self->leader, other);
  if (other == NULL)
    return;
  self->bindings = g_ptr_array_new_with_free_func (unbind);
  bind (self, other, "zoom-level");
  bind (self, other, "latitude");
  bind (self, other, "longitude");
}
