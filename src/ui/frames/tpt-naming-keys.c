/* The keys of the naming view. Letters are those their buttons show. */
#include "config.h"

#include <math.h>

#include "tpt-naming-private.h"
#include "tpt-settings.h"

#define LIFT_STEP 0.1
#define PAN_STEP 0.2

typedef void (*Deed) (TptNamingView *self);

static void
say_blank (TptNamingView *self)
{
  tpt_naming_decide (self, "blank", NULL);
}

static void
say_human (TptNamingView *self)
{
  tpt_naming_decide (self, "human", NULL);
}

static void
say_vehicle (TptNamingView *self)
{
  tpt_naming_decide (self, "vehicle", NULL);
}

static void
say_unknown (TptNamingView *self)
{
  tpt_naming_decide (self, "unknown", NULL);
}

static void
toggle_also (TptNamingView *self)
{
  tpt_naming_set_also (self, !self->also);
}

static void
toggle_zoom (TptNamingView *self)
{
  tpt_frame_view_set_zoom (self->view, tpt_frame_view_get_zoom (self->view) == 0 ? 1 : 0);
}

static void
toggle_lift (TptNamingView *self)
{
  tpt_naming_set_lift_dark (self, !tpt_settings_get_flag ("lift-dark"));
}

static void
lift_more (TptNamingView *self)
{
  tpt_naming_step_lift (self, LIFT_STEP);
}

static void
lift_less (TptNamingView *self)
{
  tpt_naming_step_lift (self, -LIFT_STEP);
}

static void
search (TptNamingView *self)
{
  tpt_name_pad_search (self->pad);
}

static void
go_left (TptNamingView *self)
{
  tpt_naming_choose_frame (self, (int) self->chosen - 1);
}

static void
go_right (TptNamingView *self)
{
  tpt_naming_choose_frame (self, (int) self->chosen + 1);
}

static void
go_up (TptNamingView *self)
{
  tpt_naming_step (self, -1);
}

static void
go_down (TptNamingView *self)
{
  tpt_naming_step (self, 1);
}

static void
go_to_last_decided (TptNamingView *self)
{
  while (self->history->len > 0)
    {
      gint64 trigger_id = tpt_naming_get_past (self)->trigger_id;

      g_array_set_size (self->history, self->history->len - 1);
      if (trigger_id != self->ref.trigger_id && tpt_naming_return_to (self, trigger_id))
        return;
    }
}

/* A form that the mouse opened leaves the keys to the picture. */
static void
toggle_details (TptNamingView *self)
{
  tpt_naming_toggle_details (self);
  if (gtk_revealer_get_reveal_child (self->details_revealer))
    tpt_details_form_enter (self->details);
}

static void
pan_left (TptNamingView *self)
{
  tpt_frame_view_pan (self->view, -PAN_STEP, 0);
}

static void
pan_right (TptNamingView *self)
{
  tpt_frame_view_pan (self->view, PAN_STEP, 0);
}

static void
pan_up (TptNamingView *self)
{
  tpt_frame_view_pan (self->view, 0, -PAN_STEP);
}

static void
pan_down (TptNamingView *self)
{
  tpt_frame_view_pan (self->view, 0, PAN_STEP);
}

static const struct {
  guint key;
  gboolean shift; /* only for what is no letter or sign */
  Deed deed;
} deeds[] = {
  { GDK_KEY_b, FALSE, say_blank },
  { GDK_KEY_h, FALSE, say_human },
  { GDK_KEY_v, FALSE, say_vehicle },
  { GDK_KEY_u, FALSE, say_unknown },
  { GDK_KEY_r, FALSE, tpt_naming_repeat },
  { GDK_KEY_a, FALSE, toggle_also },
  { GDK_KEY_t, FALSE, tpt_naming_take_back_all },
  { GDK_KEY_n, FALSE, tpt_naming_next_undecided },
  { GDK_KEY_n, TRUE, tpt_naming_split },
  { GDK_KEY_j, TRUE, tpt_naming_join },
  { GDK_KEY_z, FALSE, toggle_zoom },
  { GDK_KEY_l, FALSE, toggle_lift },
  { GDK_KEY_g, FALSE, tpt_naming_mark },
  { GDK_KEY_d, FALSE, toggle_details },
  { GDK_KEY_o, FALSE, tpt_naming_settle_other },
  { GDK_KEY_BackSpace, FALSE, go_to_last_decided },
  { GDK_KEY_Left, FALSE, go_left },
  { GDK_KEY_Right, FALSE, go_right },
  { GDK_KEY_Up, FALSE, go_up },
  { GDK_KEY_Down, FALSE, go_down },
  { GDK_KEY_Left, TRUE, pan_left },
  { GDK_KEY_Right, TRUE, pan_right },
  { GDK_KEY_Up, TRUE, pan_up },
  { GDK_KEY_Down, TRUE, pan_down },
};

/* Signs are where the keyboard's layout has them, with Shift or without. */
static const struct {
  guint key;
  Deed deed;
} signs[] = {
  { GDK_KEY_slash, search },         { GDK_KEY_KP_Divide, search },     { GDK_KEY_plus, lift_more },
  { GDK_KEY_KP_Add, lift_more },     { GDK_KEY_equal, lift_more },      { GDK_KEY_minus, lift_less },
  { GDK_KEY_KP_Subtract, lift_less },
};

/* The digit printed on a key, whatever else the layout has there, 0 for none: on
 * some layouts digits need Shift, and Shift means a count here. */
static int
find_digit (TptNamingView *self, guint keyval, guint keycode)
{
  g_autofree guint *values = NULL;
  int n = 0;

  if (keyval >= GDK_KEY_KP_1 && keyval <= GDK_KEY_KP_9)
    return (int) (keyval - GDK_KEY_KP_0);
  gdk_display_map_keycode (gtk_widget_get_display (GTK_WIDGET (self)), keycode, NULL, &values, &n);
  for (int i = 0; i < n; i++)
    if (values[i] >= GDK_KEY_1 && values[i] <= GDK_KEY_9)
      return (int) (values[i] - GDK_KEY_0);
  return 0;
}

static gboolean
press_digit (TptNamingView *self, int digit, gboolean shift)
{
  const char *species = tpt_name_pad_get_name (self->pad, digit);
  g_autofree char *kept = g_strdup (species);

  if (digit == 0)
    return FALSE;
  if (shift)
    tpt_details_form_set_count (self->details, digit);
  else if (kept != NULL && self->named)
    tpt_naming_decide (self, "animal", kept);
  return TRUE;
}

static gboolean
press_deed (TptNamingView *self, guint keyval, gboolean shift)
{
  guint lower = gdk_keyval_to_lower (keyval);

  for (gsize i = 0; i < G_N_ELEMENTS (signs); i++)
    if (signs[i].key == keyval)
      {
        signs[i].deed (self);
        return TRUE;
      }
  for (gsize i = 0; i < G_N_ELEMENTS (deeds); i++)
    if (deeds[i].key == lower && deeds[i].shift == shift)
      {
        deeds[i].deed (self);
        return TRUE;
      }
  return FALSE;
}

/* What a text does not want comes here; a modifier is for somebody else. */
static gboolean
key_cb (TptNamingView *self, guint keyval, guint keycode, GdkModifierType state)
{
  gboolean shift = (state & GDK_SHIFT_MASK) != 0;
  GtkWidget *focus = gtk_root_get_focus (gtk_widget_get_root (GTK_WIDGET (self)));

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK | GDK_META_MASK)) != 0)
    return FALSE;
  if (keyval == GDK_KEY_Escape)
    {
      tpt_naming_back (self);
      return TRUE;
    }
  if (self->list == NULL || GTK_IS_TEXT (focus))
    return FALSE;
  return press_deed (self, keyval, shift) || press_digit (self, find_digit (self, keyval, keycode), shift) ||
         tpt_details_form_press (self->details, gdk_keyval_to_unicode (keyval), shift);
}

void
tpt_naming_add_keys (TptNamingView *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}
