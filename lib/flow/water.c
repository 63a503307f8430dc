/* SPDX-License-Identifier: MIT
 * Water at atmospheric pressure, temperatures in Celsius. */
#include "flow/water.h"

#include <math.h>

static const double ice_point = 273.15;

double vugi_water_density(double t)
{
    /* Kell 1975, J. Chem. Eng. Data 20:97, 0..150 C. */
    double top = 999.83952
        + t
            * (16.945176
                + t
                    * (-7.9870401e-3
                        + t * (-46.170461e-6 + t * (105.56302e-9 - t * 280.54253e-12))));
    return top / (1.0 + 16.879850e-3 * t);
}

double vugi_water_viscosity(double t)
{
    /* IAPWS SR6-08(2011), liquid water at 0.1 MPa, -20..110 C. */
    double r = (t + ice_point) / 300.0;
    return 1e-6
        * (280.68 * pow(r, -1.9) + 511.45 * pow(r, -7.7) + 61.131 * pow(r, -19.6)
            + 0.45903 * pow(r, -40.0));
}

double vugi_water_tension(double t)
{
    /* IAPWS R1-76(2014). */
    double tau = 1.0 - (t + ice_point) / 647.096;
    return 0.2358 * pow(tau, 1.256) * (1.0 - 0.625 * tau);
}

double vugi_water_vapour_pressure(double t)
{
    /* IAPWS SR1-86(1992) (Wagner, Pruss), from the triple point to the critical one. */
    const double critical_k = 647.096, critical_pa = 22.064e6;
    double kelvin = t + ice_point, tau = 1.0 - kelvin / critical_k, root = sqrt(tau);
    double tau3 = tau * tau * tau;
    double sum = -7.85951783 * tau + 1.84408259 * tau * root - 11.7866497 * tau3
        + 22.6807411 * tau3 * root - 15.9618719 * tau3 * tau
        + 1.80122502 * tau3 * tau3 * tau * root;
    return critical_pa * exp(critical_k / kelvin * sum);
}
